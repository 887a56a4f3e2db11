"""Which numbers and sizes can the columns of this room hold?"""

from __future__ import annotations

from django.core.validators import MaxValueValidator, MinValueValidator, RegexValidator
from django.utils.translation import gettext_lazy as _

AMPERES = [MinValueValidator(1), MaxValueValidator(6000)]
POSITIVE = [MinValueValidator(0.001)]
wire_size_shape = RegexValidator(r"^(\d/0|\d{1,4})$", _("Write a size such as 12, 2/0 or 250."))
