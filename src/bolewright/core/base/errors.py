"""Errors the core raises: always one plain sentence, with the path of the value at fault where there is one."""


class BolewrightError(Exception):
    """A fault a person can act on. `path` names the value ("tree.limb[2].at"), empty when it is not one value."""

    def __init__(self, sentence: str, path: str = "") -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.path = path


class BadInput(BolewrightError):
    """The numbers given cannot describe a real tree, support or tool."""


class NotEnoughKnown(BolewrightError):
    """The question cannot be answered from what was measured; the sentence says what is missing."""
