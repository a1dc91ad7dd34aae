"""The shop's migrations as a later program would have them: today's, and one more."""

from gudgeon.records import migrations

__path__ = [*__path__, *migrations.__path__]
