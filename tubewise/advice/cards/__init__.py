"""Answers made to be printed and painted beside: charts, ladders, cards and shelf labels."""
