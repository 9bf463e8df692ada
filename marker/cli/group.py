"""The group that all commands stand in: every expected error is told once, in one sentence."""

from __future__ import annotations

from typing import Any

import click

from marker.errors import MarkerError

EXIT_CODES = """\b
Exit codes: 0 all is well; 1 stopped, or an unexpected fault; 2 bad input;
3 no lay exists; 4 refused by the referee; 5 can't be written."""


class OneSentence(click.Group):
    """A group of commands that tells every expected error in one sentence on stderr."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; turn the project's own errors into a sentence and an exit code."""
        try:
            return super().invoke(ctx)
        except MarkerError as error:
            click.echo(f"marker: {error}", err=True)
            ctx.exit(error.exit_code)
        except KeyboardInterrupt:
            click.echo("marker: stopped; nothing was written", err=True)
            ctx.exit(1)
