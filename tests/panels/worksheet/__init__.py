"""The worksheet of a kept calculation."""
