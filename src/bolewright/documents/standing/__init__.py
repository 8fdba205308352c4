"""What the papers of a standing tree share: its facts, what was seen and tested, sources, drawings, photographs."""
