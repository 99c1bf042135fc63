"""What players answered about their roles: evidence of recall, kept apart from reps."""

from __future__ import annotations

from django.db import models

from plays.core.play import ROLES
from roster.models.package import PackagePlay
from roster.models.players import Player


class QuizAnswer(models.Model):
    """One answer; ``number`` counts a player's answers to the question, so that each counts once.

    ``memory`` is roster.core.quiz.spacing.Memory as JSON, as of this answer.
    """

    player = models.ForeignKey(Player, on_delete=models.CASCADE, related_name="answers")
    entry = models.ForeignKey(PackagePlay, on_delete=models.CASCADE, related_name="answers")
    role = models.CharField(max_length=1, choices=[(role, role) for role in ROLES])
    question = models.CharField(max_length=40)
    number = models.PositiveIntegerField()
    right = models.BooleanField()
    metres = models.FloatField(null=True)
    memory = models.JSONField()
    said_at = models.DateTimeField()

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("player", "entry", "role", "question", "number"), name="one_answer_a_turn"
            ),
        )

    def __str__(self) -> str:
        return f"{self.question} {'right' if self.right else 'wrong'}"
