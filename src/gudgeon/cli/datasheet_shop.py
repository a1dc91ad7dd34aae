"""``gudgeon datasheet import`` and ``export``: the data sheets that the shop keeps."""

from pathlib import Path

import click

from gudgeon.cli.shop import opened_shop, whoever


@click.command(name="import")
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
def import_command(files: tuple[Path, ...]) -> None:
    """Keep data sheets in the shop; the same content twice is kept once.

    Leaves with 3 when a sheet cannot be used, naming everything that is wrong with it.
    """
    with opened_shop():
        from gudgeon.datasheet import read_file
        from gudgeon.records.services.sheet import save_sheet

        for file in files:
            kept = save_sheet(read_file(file), whoever(""))
            words = "is here already" if kept.already else "kept"
            click.echo(f"{kept.key}, number {kept.number} here: {words}. Content {kept.content_hash}")


@click.command(name="export")
@click.argument("key")
@click.option("--number", type=click.IntRange(min=1), help="This one of the shop's; otherwise the newest.")
@click.option("-o", "--output", type=click.Path(path_type=Path), help="Write here; otherwise to the screen.")
def export_command(key: str, number: int | None, output: Path | None) -> None:
    """Write a data sheet as its file. A file that is there already is not overwritten."""
    with opened_shop():
        from gudgeon.records.services.sheet import export_sheet

        text = export_sheet(key, number)
        if output is None:
            click.echo(text, nl=False)
            return
        with output.open("x", encoding="utf-8", newline="") as file:
            file.write(text)
        click.echo(f"{key}: written to {output}.")
