"""What the recognizer is to expect, and which of its readings was meant: generating phrases and weighing words."""
