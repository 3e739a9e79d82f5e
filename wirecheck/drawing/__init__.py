"""Pictures of a board. `picture.py` is the door: a board in, SVG out.

`rooms` says what stands where, `places` gives everything its place so that the
rules of a clear drawing hold, `wiring` and `symbols` put it on a `sheet`, and
`render` turns the sheet's Graphviz source into SVG, PNG or PDF.

The ladder diagram goes the same way: `grid` gives rungs their rows and columns, `travelers` keeps a
3-way switch whole, `rails` has what stands in the rails, `captions` the words, and `ladder` puts it all
on a `sheet`. `inner` lays out what is in one piece of equipment, and `inside` draws it, in a state or
in none. All draw a thing by one sign: `contacts` has those of what opens and closes, `loads` the others,
and `strokes` is their pen.
Of the wiring diagram alone are the `faces` of receptacles, the blades of switches (`hand`), the `legs` and
the `bars` of panels, what is told of a `short` wire within a room, the colors of its `tails`, and those that
stand `again` where a cable runs far, and `within` a room that is wide.
`state` tells what a settled state shows, and `key` what its marks mean; `steps`, `opened` and `gallery`
are pages of pictures, whole in themselves. `paper` lays a picture on sheets that join, where `ticks` tell
the colors of wires in black and white: `cuts` says where it is cut, `strips` are let in there, and `joins`
are what goes on.
"""
