"""The cut list: joints on backing, pieces on boards, boards to buy."""
