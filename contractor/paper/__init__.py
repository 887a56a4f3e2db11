"""How does anything get onto paper? Shared type, title block and cautions, set by typst."""
