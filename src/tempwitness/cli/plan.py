"""The commands that look ahead: a wrapped rest, a cooling, a reheating, the next readings."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from tempwitness.cli.check import checked
from tempwitness.cli.exit_codes import ExitCode
from tempwitness.cli.options import bare_options
from tempwitness.cli.settings import SETTINGS

if TYPE_CHECKING:
    from tempwitness.cli.plan_given import Given
    from tempwitness.planning import CoolPlan, ReheatPlan, RestPlan
    from tempwitness.readers.options import BareOptions

__all__ = ["plan"]

Command = TypeVar("Command", bound=Callable[..., Any])

_EPILOG = """\b
Exit status: 0 should do, 1 will hardly do, 3 doubtful, 2 could not run.

An estimate from physics, good to about ±30 %. It proves nothing to an inspector."""

_SHARED = (
    click.option("--food", required=True, metavar="NAME", help="The food: 'lamb shoulder', beans."),
    click.option("--code", default="", metavar="ID", help="Food code: us/food-code/2022."),
    click.option("--start", required=True, metavar="TEMP", help="Core at the start: '198 F'."),
    click.option("--json", "as_json", is_flag=True, help="Print one JSON document."),
    click.option(
        "--save",
        type=click.Path(path_type=Path, dir_okay=False),
        help="Also write a record to fill in (TOML).",
    ),
    click.option("--zone", default="", metavar="ZONE", help="Time zone of that record."),
)
_LEG = "A limit of your own in place of the code's"
_PAN = (
    click.option("--depth", default="", metavar="LEN", help="Depth of food in a pan: '2 in'."),
    click.option("--piece", default="", metavar="SIZE", help="Size of a piece: '12x6x5 in'."),
    click.option("--stirred", is_flag=True, help="Stirred all along."),
)


def _with(*options: Callable[[Any], Any]) -> Callable[[Command], Command]:
    def add(command: Command) -> Command:
        wrapped: Any = command
        for option in reversed(options):
            wrapped = option(wrapped)
        decorated: Command = wrapped
        return decorated

    return add


@click.group(context_settings=SETTINGS)
def plan() -> None:
    """Look ahead: how long a rest lasts, whether a cooling or a reheating will do.

    The limits are those of the code that is named. Every assumption is printed.
    """


@plan.command("rest", epilog=_EPILOG, context_settings=SETTINGS)
@_with(*_SHARED)
@click.option("--weight", required=True, metavar="W", help="Weight of one piece: '8 lb'.")
@click.option("--pieces", type=click.IntRange(1, 100), default=1, help="Pieces in the box; 1.")
@click.option("--hours", type=click.FloatRange(0, 72), required=True, help="How long it must last.")
@click.option("--room", required=True, metavar="TEMP", help="Around the box: '75 F'.")
@click.option(
    "--box",
    type=click.Choice(["thin", "ordinary", "thick"]),
    default="ordinary",
    help="Wall of the box; ordinary if not given.",
)
@click.option("--size", default="24x16x16 in", metavar="SIZE", help="Box outside: '24x16x16 in'.")
@click.option("--towels", default="", metavar="LEN", help="Layer of towels: '0.5 in'.")
@click.option("--preheated", is_flag=True, help="Hot water stood in the box before.")
@click.option("--filled", is_flag=True, help="What is left of the box is filled with towels.")
@click.option(
    "--measured",
    default="",
    metavar="LINE",
    help="An earlier rest in this box: '200 F to 140 F in 6 h'.",
)
@click.option("--limit", default="", metavar="TEMP", help="Keep this instead of the code's limit.")
@click.option("--piece", default="", metavar="SIZE", help="Size of a piece: '12x6x5 in'.")
@click.pass_context
def rest(ctx: click.Context, /, **given: Any) -> None:  # noqa: ANN401 - one for each option
    """Say how long a wrapped rest in a closed box stays above the limit.

    \b
    Example:
      tempwitness plan rest --food brisket --weight '8 lb' --start '200 F' --room '75 F' \\
          --hours 4 --towels '1 in' --code us/food-code/2022
    """  # noqa: D301 - click's mark for text that must not be rewrapped
    from tempwitness.cli.plan_given import Given, rest_asked  # noqa: PLC0415 - not for help
    from tempwitness.cli.plan_text import rest_text  # noqa: PLC0415
    from tempwitness.planning import plan_rest  # noqa: PLC0415

    answers = Given(given)
    asked = rest_asked(answers)
    found = plan_rest(asked)
    _end(ctx, answers, found, rest_text(asked, found))


@plan.command("cool", epilog=_EPILOG, context_settings=SETTINGS)
@_with(*_SHARED)
@click.option("--weight", required=True, metavar="W", help="Weight of all of it: '40 lb'.")
@click.option(
    "--method",
    type=click.Choice(["still_air", "walk_in", "blast", "ice_bath"]),
    required=True,
    help="What cools it: a refrigerator, a walk-in cooler, a blast chiller, ice and water.",
)
@click.option("--around", default="", metavar="TEMP", help="Temperature of that air or bath.")
@click.option(
    "--leg", multiple=True, metavar="LINE", help=f"{_LEG}: '60 C to 21 C in 2 h'. May be repeated."
)
@_with(*_PAN)
@click.pass_context
def cool(ctx: click.Context, /, **given: Any) -> None:  # noqa: ANN401 - one for each option
    """Say whether food will cool in time, in how many pans, and with how much ice.

    \b
    Example:
      tempwitness plan cool --food beans --weight '40 lb' --start '160 F' \\
          --method walk_in --depth '2 in' --code us/food-code/2022
    """  # noqa: D301 - click's mark for text that must not be rewrapped
    from tempwitness.cli.plan_given import Given, cool_asked  # noqa: PLC0415 - not for help
    from tempwitness.cli.plan_text import cool_text  # noqa: PLC0415
    from tempwitness.planning import plan_cool  # noqa: PLC0415

    answers = Given(given)
    asked = cool_asked(answers)
    found = plan_cool(asked)
    _end(ctx, answers, found, cool_text(asked, found))


@plan.command("reheat", epilog=_EPILOG, context_settings=SETTINGS)
@_with(*_SHARED)
@click.option("--weight", required=True, metavar="W", help="Weight of all of it: '20 lb'.")
@click.option(
    "--method",
    type=click.Choice(["still_oven", "fan_oven", "hot_water"]),
    required=True,
    help="What heats it: an oven or pit, an oven with a fan, simmering water around a bag.",
)
@click.option("--around", required=True, metavar="TEMP", help="Oven or water: '350 F'.")
@click.option("--leg", default="", metavar="LINE", help=f"{_LEG}: '5 C to 75 C in 1 h'.")
@_with(*_PAN)
@click.pass_context
def reheat(ctx: click.Context, /, **given: Any) -> None:  # noqa: ANN401 - one for each option
    """Say whether food reaches its reheating target in time.

    \b
    Example:
      tempwitness plan reheat --food beans --weight '20 lb' --start '38 F' \\
          --method fan_oven --around '350 F' --depth '2 in' --code us/food-code/2022
    """  # noqa: D301 - click's mark for text that must not be rewrapped
    from tempwitness.cli.plan_given import Given, reheat_asked  # noqa: PLC0415 - not for help
    from tempwitness.cli.plan_text import reheat_text  # noqa: PLC0415
    from tempwitness.planning import plan_reheat  # noqa: PLC0415

    answers = Given(given)
    asked = reheat_asked(answers)
    found = plan_reheat(asked)
    _end(ctx, answers, found, reheat_text(asked, found))


@plan.command("readings", context_settings=SETTINGS)
@click.argument("record", type=click.Path(path_type=Path, exists=True, dir_okay=False))
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document.")
@click.option("--at", metavar="TIME", help="Moment of asking; now if omitted: '2026-07-04 22:15'.")
@bare_options
@click.pass_context
def readings(
    ctx: click.Context,
    /,
    *,
    record: Path,
    as_json: bool,
    at: str | None,
    options: BareOptions | None,
) -> None:
    """Name the few readings that RECORD lacked, and what each would have shown.

    RECORD is a record or a bare table of readings, as for check. Next time, take them.

    \b
    Example:
      tempwitness plan readings record.toml
    """  # noqa: D301 - click's mark for text that must not be rewrapped
    from tempwitness.cli.plan_text import missing_json, missing_text  # noqa: PLC0415 - not for help
    from tempwitness.planning.readings import missing_readings  # noqa: PLC0415

    evaluation = checked(record, options, at).evaluation
    found = missing_readings(evaluation)
    click.echo(missing_json(found) if as_json else missing_text(found, evaluation.lot))
    ctx.exit(int(ExitCode.NOT_SHOWN if found else ExitCode.MET))


_STATUS = {
    "holds": ExitCode.MET,
    "fails": ExitCode.NOT_MET,
    "doubtful": ExitCode.NOT_SHOWN,
}


def _end(
    ctx: click.Context, given: Given, found: RestPlan | CoolPlan | ReheatPlan, text: str
) -> None:
    """Print a plan, save the record to fill in, and leave with the plan's status."""
    from tempwitness.cli.plan_text import to_json  # noqa: PLC0415 - not for help

    if (output := given.options["save"]) is not None:
        _save(given, output)
    click.echo(to_json(found) if given.options["as_json"] else text)
    ctx.exit(int(_STATUS[found.outlook.value]))


def _save(given: Given, output: Path) -> None:
    from tempwitness.cli.report import write_new  # noqa: PLC0415 - not for help
    from tempwitness.drafting.compose import compose  # noqa: PLC0415
    from tempwitness.drafting.draft import Draft  # noqa: PLC0415

    options = given.options
    head = {"lot": f"planned {options['food']}", "code": options["code"], "zone": options["zone"]}
    draft = Draft(
        head={key: value for key, value in head.items() if value},
        food={"name": options["food"], "weight": options["weight"]},
    )
    write_new(output, compose(draft).encode("utf-8"), force=False)
    click.echo(f"{output} is written, to be filled in.", err=True)
