"""Vector drawings to scale, returned as the text of one SVG element.

Plain lines, black on white: what a thing is is said in words and numbers, never by colour alone.
"""
