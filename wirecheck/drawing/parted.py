"""Where a wire is missing, a lane parts the line of the grid at which its sides meet: nothing else moves."""

from __future__ import annotations

from wirecheck.drawing.cells import Grid


def parted(grid: Grid) -> Grid:
    """The grid with a lane for each missing wire, at the line at which its two sides would be one.

    What is behind the missing wire meets the far side of the lane, all else the near side; what stands in the
    columns beside it is led there.
    """
    if not grid.missing:
        return grid
    lines = _Lines(grid)
    cells, runs, last = grid.cells, grid.runs, grid.columns
    grid.cells, grid.runs = [], []
    for run in runs:
        if run.down:
            grid.down(run.node, lines.meets(run.node, run.at), run.start, run.end)
        else:
            grid.across(run.node, run.at, lines.meets(run.node, run.start), lines.meets(run.node, run.end))
    for cell in cells:
        column = lines.far(cell.column)
        grid.across(cell.left, cell.row, lines.meets(cell.left, cell.column), column)
        grid.across(cell.right, cell.ends[1], column + 1, lines.meets(cell.right, cell.column + 1))
        grid.cells.append(cell._replace(column=column))
    behind = {run.at for run in runs if run.down and (run.node, run.at) in lines.level}
    ahead = {run.at for run in runs if run.down and (run.node, run.at) not in lines.level}
    # Words at a sign leave little room behind it on the lines to a motor.
    held = {*ahead, *range(grid.columns if grid.motor else 1)}
    for gap in grid.missing:
        column = lines.meets(gap.right, gap.column) - 1
        grid.across(gap.left, gap.row, lines.meets(gap.left, gap.column), column)
        grid.cells.append(gap._replace(column=column))
        # It lies before the line, as words stand behind it, but for where a wire stands on the line.
        back = gap.column == last or gap.column not in held
        grid.gaps[column] = back
        if gap.column in (ahead if back else behind):
            grid.moved.add(column)
    grid.spots = {node: (lines.meets(node, column), row) for node, (column, row) in grid.spots.items()}
    grid.loose = {(lines.meets(node, column), row): node for (column, row), node in grid.loose.items()}
    grid.lanes = frozenset(lines.far(column) for column in grid.lanes)
    if grid.motor:
        at = lines.far(grid.motor.column)
        for node, (column, row) in grid.motor.ends:
            grid.across(node, row, lines.meets(node, column), at)
        grid.motor = grid.motor._replace(column=at)
    grid.columns = lines.far(grid.columns)
    return grid


class _Lines:
    """How far each line of a grid is parted, and on which of its lines then a node stands."""

    def __init__(self, grid: Grid) -> None:
        self.last = grid.columns
        self.level: dict[tuple[int, int], int] = {}
        self.near = {(gap.left, gap.column) for gap in grid.missing}
        self.near |= {(node, column) for (column, _), node in grid.loose.items()}
        wide = [0] * (grid.columns + 1)
        for _ in grid.missing:
            for gap in grid.missing:
                key = (gap.right, gap.column)
                behind = self.level.get((gap.left, gap.column), 0) + 1
                self.level[key] = max(self.level.get(key, 0), min(behind, len(grid.missing)))
                wide[gap.column] = max(wide[gap.column], self.level[key])
        self.wide = wide
        self.base = [line + sum(wide[:line]) for line in range(grid.columns + 1)]

    def far(self, line: int) -> int:
        """The line behind all lanes of a line."""
        return self.base[line] + self.wide[line]

    def meets(self, node: int, line: int) -> int:
        """The line on which a node stands, of those that a line is parted into."""
        rest = self.wide[line] if line == self.last and (node, line) not in self.near else 0
        return self.base[line] + self.level.get((node, line), rest)
