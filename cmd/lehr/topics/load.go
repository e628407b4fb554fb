package topics

// LoadExample is a load file with every key. A test runs it as it stands.
const LoadExample = `  # load.toml: all that goes into the kiln in one firing
  #
  # What you call it; it heads the report and the sheet. Default: none.
  name = "rock pools, second night"
  # Glass of the pieces that name none: lehr glass lists the names. Default:
  # --glass, else that of the studio file.
  glass = "borosilicate-33"
  # Clock time at which the program starts. Default: no clock, hours only.
  start = "22:15"
  # "hot kiln": finished pieces wait in it hot. "cold kiln": they go in cold and
  # are heated first. "warm only": stones, cabochons and tube are dried, warmed
  # and held until you use them. Default "hot kiln".
  into = "hot kiln"
  #
  # When the hot kiln is opened before the program, besides when pieces go in.
  # What each opening does to the pieces that lie in it is computed. Default:
  # not computed, unless [kiln] of the studio file says what an opening does.
  [door]
  # Times of day, or "40 min before", at most 16 h before the start.
  at = ["21:50", "1 h before"]
  # Regularly, 2 min or longer apart, from since on until the start; since by
  # default when the first piece goes in.
  every = "30 min"
  since = "2 h before"
  # What an opening does: the same as door_open, door_dip and door_view of the
  # studio file (lehr help studio), before which they count.
  open = "20 s"
  dip = "25 °C"
  view = "10 %"
  #
  # One table for each kind of piece, 400 at most.
  [[piece]]
  # Shape, sizes and the words behind them: lehr help pieces. It may begin with
  # the count: "4 x sphere 64 mm".
  what = "sphere 64 mm"
  # How many there are, 1 to 10000. Default 1.
  count = 4
  # Its own glass. Default: that of the load.
  glass = "borosilicate-33"
  # "shelf", also in a fiber dimple; "raised": on points, air all around;
  # "bedded": in fiber, powder or sand up to its middle. Default "shelf".
  resting = "shelf"
  # How long it bears to be above its strain point, 1 min or more, slow cooling
  # and waiting counted: a color that shifts if it is held longer. Default: no
  # limit.
  longest_soak = "24 h"
  # How hot it bears to be soaked. Default: no limit of its own.
  hottest_soak = "565 °C"
  # When it went into the hot kiln, at most 16 h before the start: a clock time
  # or "2 h before". Default: nobody says. It then evens out as the last one,
  # in at the start; but a kiln that holds hotter than its glass bears for hours
  # counts as if it had waited there.
  in = "2 h before"
  # How hot its middle is when it goes in, 20 to 1500 °C (68 to 2732 °F), or
  # "even" for work that is as hot as the kiln. Default in a hot kiln: straight
  # from the flame, as hot as its softening point; hotter it keeps no shape.
  core = "600 °C"
  # How much of its own heat it lets through: "clear", "dark" (a dark core or a
  # backing over most of it) or "opaque" (opal, black, leaf near the surface).
  # Default: nobody says, and what comes out worst counts.
  light = "clear"
  # What it must bear besides the program: "ordinary"; "worked later": sawn,
  # ground, mailed or left in the cold after the kiln; "worked before": it goes
  # in scratched, ground or sawn; "unknown history": reheated, and nobody knows
  # what stress it brings, so that half the tension is allowed in the kiln. All
  # but the first lower limits. Default "ordinary".
  wear = "worked later"
  # true: to compare with a book, as lehr help pieces says. Its answer is none
  # for a piece that lies in a kiln. Default false.
  textbook = false
  # What is in it, by the next four keys, in the words of lehr help pieces. A
  # stone or a foil, or a list, with the depth of its middle. Default: nothing.
  inside = "opal 5mm, 20mm deep"
  # Layers from inside out, the core by its whole width; one may lack a size.
  # Here none: the stone and a core would both want the middle. Default: clear.
  layers = []
  # A skin all over the outside: glass and thickness. Default: none.
  skin = "clear 1mm"
  # A stripe on it, or a list: glass, width and thickness. Default: none.
  stripe = "clear 3mm x 1mm"
  # A note to yourself. Default: none.
  note = "encased shell"
  #
  # The same by keys in place of what: shape and its sizes, 1 to 300 mm (0.04 to
  # 11.8 in), those along the shelf up to 2 m (78 in). No default.
  [[piece]]
  shape     = "disc"      # sphere, rod and tube have a diameter, too
  diameter  = "75 mm"
  thickness = "12 mm"     # also of a slab or a pendant
  [[piece]]
  shape  = "dome"
  width  = "75 mm"        # also of a slab (with its length) or a pendant
  height = "45 mm"        # the same as thickness
  [[piece]]
  shape  = "tube"
  diameter = "38 mm"
  length = "200 mm"       # also of a rod or a slab
  wall   = "4 mm"         # also of a sphere, 0.5 mm (0.02 in) or more
  open   = true           # the bore is open to the kiln. Default false: closed
  # A body of revolution by its profile: half its outline, points of radius and
  # height from the axis around to the axis, or a ring that closes; what is its
  # name.
  [[piece]]
  what    = "foot of a vase"
  profile = ["0 0", "35 mm 0", "35 mm 8 mm", "12 mm 20 mm", "0 20 mm"]
  #
  # Facts of the night for the safety review: lehr safety --facts lists them.
  # They count before those of the studio file. Default: none.
  [session]
  oxygen = "cylinder"`

// loadTopic and piecesTopic are helps on what a person writes down of a load.
var loadTopic = Topic{"load", "Every key of a load file", always(`A load file says what goes into the kiln. It is TOML: text stands in quotes, a size or a temperature carries its unit, and what stands behind # counts for nothing. Every key it takes:

` + LoadExample + `

A key that lehr does not know is an error, not a guess. lehr init writes a load to start from.`)}

var piecesTopic = Topic{"pieces", "The words for a piece: shapes, sizes, clear, dark, opaque", always(PiecesHelp)}

// PiecesHelp says how a piece is written.
const PiecesHelp = `A piece is written with its shape first, then its sizes, each with its unit, then what else is known, in any order. The same words stand behind --piece and behind what = in a load file; a count may stand before them:

  lehr plan --glass borosilicate-33 --piece "6 x sphere 2.5in clear"

SHAPES

  sphere 64mm                also ball, marble
  sphere 75mm wall 4mm       hollow, closed all around
  rod 10mm x 200mm           also cylinder: diameter, then length if you like
  disc 75mm x 25mm           also disk: diameter, then height
  slab 200mm x 150mm x 20mm  also block: two sides, then height
  tube 38mm wall 4mm         diameter, then length if you like, then wall
  dome 75mm x 45mm           also paperweight: width, then height
  pendant 45mm x 12mm        width, or two widths, then greatest thickness
  lens 45mm x 12mm           a pendant of two caps, thin all around its edge

The words take a plural s. A dome of one size is half a ball. Give the width of a slab: without it its rim, which cools ahead of its middle, is not computed, and the answer is NOT JUDGED. For a cabochon, a bead, a bowl and the like, lehr says which shape to write.

HOW IT LIES

  shelf    on a shelf or in a fiber dimple; this counts if you say nothing
  raised   on points, air all around
  bedded   in fiber, powder or sand up to its middle

A tube is closed, or open (open-ended) if the air of the kiln reaches its bore.

HOW CLEAR IT IS

Hot glass glows inside, and clear glass lets that glow out from deep within; so a clear ball evens out sooner than a black one.

  clear    you look through it, and no core stops the light
  dark     a dark core, or a dark backing over most of it
  opaque   opal, black, or metal leaf near the surface

If you say nothing, all three are computed and the worst counts, which mostly makes the program slower. How much each color of light is held back is known for borosilicate-33 alone: clear glass of another kind, and clear flat pieces and tubes, count as dark.

WHAT IS IN IT

Behind a semicolon, or by a key of the same name in a load file. Glasses that shrink apart pull on each other for good, and no program takes that away: plan and verify add it to what the program does. lehr seal answers before the glass is melted, and lehr seal --materials lists what has a name.

  sphere 2.5in; inside opal 8mm, 12mm deep     a stone; depth of its middle
  sphere 2.5in; inside cabochon 10mm x 4mm of opal, edge 1mm, dry
  sphere 2.5in; inside 3 x sphere 5mm of cz, 9mm deep, 20mm apart
  disc 75mm x 25mm; inside foil 0.05mm of platinum, 3mm deep
  sphere 63mm; layers core clear 40mm / cobalt 2mm / clear
  sphere 63mm; skin white 1.5mm                in a disc also: , one face
  sphere 63mm; stripe white 3mm x 1mm          width, then thickness

Without a depth it lies in the middle. Layers stand from inside out; the core is given by its whole width, one layer may go without a size and takes what is left, and in a flat piece they lie on both sides of the core. The word clear is the glass of the piece. A glass of your own states how much it expands: my-red 2mm, expansion 33.5e-7 /K. A color that nobody stated counts with two units (2e-7 /K) either way. Several kinds may follow each other, each behind its semicolon.

A dark core, a black, white or cobalt layer and metal leaf stop the light: such a piece counts as dark or as opaque, whatever is said of its glass.

STONES THAT ARE WARMED

A stone by itself lies only in a load that is warmed (into = "warm only"):

  3 x stone 10mm of opal, dry            by its diameter
  cabochon 14mm x 5mm of opal, edge 1mm  by its width and thickness

What holds water is dried on the way: held near 110, 150, 200, 300 and 450 °C, at 50 °C/h or slower. Say dry if it was dried before; the first hold is shorter then.

WHAT IT MUST BEAR

By the key wear of a load file, and there alone (lehr help load): ordinary; worked later, which asks for less locked in; worked before, which asks for less tension in the kiln, too; unknown history, for a piece to be reheated of which nobody knows whether it was annealed: half the tension is allowed in the kiln.

FOR A COMPARISON WITH A BOOK

  textbook  as a book has it, hanging free: no bed, no rim, no ends, no ranges

The piece counts as a sphere, an endless cylinder or an endless slab of average glass. Its answer is none for a piece that lies in a kiln.`
