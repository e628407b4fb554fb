package finding

import "fmt"

// Kind says what a finding is about.
type Kind int

// What a program exceeds in a piece, or what of it was not judged.
const (
	OverTension      Kind = iota + 1 // Stress, Most
	OverResidual                     // Stress, Most
	OverRelaxed                      // Number: the share that relaxed
	OverEven                         // Delta: core above surface at the end of the soak
	OverOpening                      // Stress, Most: when the kiln is opened
	OverHottest                      // Temp: as hot as; Limit: what the piece bears
	OverHeld                         // Time: held hot; Bears
	OverSag                          // Number: softer than 10^Number Pa·s; Time
	EndsHot                          // Temp: where the program ends, too hot for the rest to be judged
	UnprovenTension                  // Stress: worst case, Most; Name: key of what counts most; Like: its worst answer if it is a question
	UnprovenResidual                 // the same of what is left
	RimNotComputed                   // of a flat piece
	OverWaits                        // Temp: where it waits before the program; Limit: what it bears; Name: glass that marks above, or none if the piece bears no more; Number: log10 Pa·s
	OverDoor                         // Stress, Most: when the hot kiln was opened before the program
)

// What the reader should know first.
const (
	OpenedAt          Kind = iota + 100 // Temp, Piece; Stress, Most: the tension when the kiln is opened, worst case; Own, OwnMost: in average glass
	HeatsAsGuessed                      // Segment, Rate: full heating of a kiln nobody measured
	KilnLate                            // Segment, Name: purpose; Rate programmed; Time it takes; Bears: longer than programmed; Temp: below which it falls slower, zero for all the way; Number: [K/s] from which on any rate does the same, 0 if none; Yes: the kiln was measured
	DownToRoom                          // Temp
	NotJudgedToEnd                      // Temp
	ClosedFormDiffers                   // Piece, Stress: simulated; Most: closed form; Yes: of the tension left
	PowerShort
	WaitsAt         // Temp: where finished pieces are taken to wait, zero for the soak
	SoakLengthened  // Time: now; Bears: before; Number: the share to relax
	RoundingCosts   // Time
	StaysAboveMarks // Temp, Limit, Name: glass
	LightUnsaid     // Piece, Number: by how much the worst case of its tension, or with Yes of what is left, would fall if somebody said how clear it is
	TextbookOnly    // Piece: computed as the body of a textbook
	SoakRoom        // Temp, Time: of the soak; Bears: how long it could be without harm; Piece: which bears no more, None: softness; Number, To: shortest and longest of published charts [s], 0 for none
	OtherScale      // Temp: hottest of the program, no soak of any piece; Limit: the same number of the other scale, which would be one
	LightCosts      // Time, Bears: how much sooner it would end if somebody said that the pieces are clear, or dark
	RangeCosts      // Name: key of a property; Time: how much sooner it would end if it were measured
	KilnDecides     // Time, Bears: between which time constants of a fall that nobody measured the program keeps its limits, zero for none
	ShutAir         // Piece: hollow; Temp: hottest of the program; Number: how many times the air of the room presses then, shut in cold; Stress: mean in the wall by it
	HotterThanKilns // Temp: hottest of the program; Limit: what kilns for glass commonly bear
	StillHot        // Piece, Temp: the kiln reads at its opening; Limit: of the middle of the piece then; Delta: of its surface above the reading
	PlacesCost      // Time: how much sooner it would end if all places of the kiln were as its reading
	LastEven        // Piece: the last to even out that went in hot; Time: when, from the start of the program; Yes: slow cooling begins after that
	WaitsSet        // Temp: the kiln waits at; Limit: strain point; Name: glass, in which nothing relaxes there; Yes: nobody said how hot the piece went in, so its first minutes are not judged; Stress: that of one that went in hot, over its limit
	MendRate        // Segment, Rate: with which the program keeps its limits; Time: how much longer it takes then
	MendHold        // Segment, Bears: hold with which it does; Time
	MendOff         // Segment, Temp: down to which it does; Time
	MendRates       // Number: times all cooling rates with which it does; Time
	MendPlan        // no single change does, and a planned program does; Time: how long that takes
	MendNone        // neither does
	MendOpening     // Temp: opened at which at most the program keeps its limits as it is, zero for when the kiln is as cool as the room; Time: from the end of the program to then; Yes: the kiln was measured
	Stair           // Rate: the smallest of the controller, at which short ramps with holds stand for slower ones; Time: how much longer it takes for that
	KilnHighest     // Temp: the highest of the kiln; Limit: the soak that was wanted
	StaysOn         // Temp: the last set point, which the controller keeps; Yes: too hot to touch
	StaysOnAfter    // Segment: falls with the power off, and Temp: the set point that the controller keeps instead
	SwitchesOff     // Temp: where pieces are to stay, and the controller switches off
	Eased           // Time: how much longer it takes because ramps are slowed to what the kiln was measured to do, less a margin; Number: the margin
	MarginKept      // Number: the share of each limit of tension that was to be left unused; Yes: it is
	NoStressBefore  // finished work is taken to go in without
	FewSegments     // Number: of the controller, for which ramps were joined; Time: how much longer it takes for that
	DoorOpened      // Number: how often before the program; Time: each; Delta: how far the skin sees the kiln fall; Temp: from where; Limit: what its reading falls to; Piece, Stress, Most: the tension nearest to its limit; Bears: when, before the start; None: no piece lay in the kiln
	KeepClosed      // opening the kiln where the program ends exceeds a limit. Temp: the highest round reading at which it does not, zero where none down to Limit is, or, with no Limit, where a piece may have cracked, so that the kiln stays closed until it is as cool as the room; Piece: that the opening at the end brings nearest to its limits; Time: from the end to that reading; Yes: the kiln was measured
)

// What was assumed.
const (
	FallMeasured   Kind = iota + 200 // the studio's kiln says how it falls
	FallGuessed                      // Time: its time constant
	FallRange                        // Time, Bears: the time constants for which it was computed
	BeyondMeasured                   // Temp: up to where the law is carried on
	PlacesDiffer                     // Delta: hotter and colder than the reading
	PlacesEven
	WorstVariants      // of the load: its glasses say which fixed points have a range of their own
	TensionLimitGiven  // Stress: a person's own
	ResidualLimitGiven // Stress: a person's own
	HeatsAsProgrammed
	ControllerWaits
	ElectricityUnknown
	ElectricityEstimated
	BodyOf          // Piece
	SoakCounted     // Piece, Bears
	BeyondRange     // Name: glass and property; Temp, Limit: its range
	AnnealingPoint  // Name: glass; Temp, Delta
	NegativeOptic   // Name: glass
	NoRelaxation    // Name: glass: structural relaxation left out
	OneGlass        // Yes: the others have something in them
	OpeningComputed // Number: heat transfer [W/m²K]
	StaysUntilUsed  // Temp
	SearchedShortest
	CoreAssumed     // Name: glass; Temp: how hot work straight from the flame is inside at most
	SectionComputed // Piece: its section was computed as it is; Number, Stress: its tension and what is left, over the bounds of the search
	SpectraBorrowed // Name: glass: relaxes by the set of soda-lime glass
	DoorComputed    // Number: the share of the room in the view of a skin; Yes: assumed
	ShapeUntested   // Piece: the rule for its rim, ends or dome was compared with no finite elements
)

// What a rule assumes; Rule says which.
const (
	TakenFor       Kind = iota + 300 // Name: glass and the family it is like
	PropertyHeld                     // Name: property beyond its range
	ResidualRaised                   // Number: times; Yes: measured on soda-lime glass, else derived
	NotRaised                        // no structural relaxation known
	SteadyRates
	LowestDiffusivity
	SlowedRanges // Number: of the plain rate
	BetweenRows
	TableSlowed   // Number: rates times
	RampsOfStress // the chart gives none
)

// Which slab a piece counts as in a rule; Rule says which, Piece whose.
const (
	CountsBothFaces Kind = iota + 350
	CountsOneFace        // of twice its thickness
	CountsOwnColumn      // a column of its own in the table
	CountsWhole          // Number: what it would be by equal surface stress, of that
	CountsEqual          // Number: of its diameter
)

// Why a number of the program is what it is.
const (
	SameSoak     Kind = iota + 400
	SoakAtAnneal      // Temp, Name: glass
	SoakOfRule        // Temp, Name: rule
	SoakHottest       // Temp, Piece
	SoakMarks         // Temp, Name: glass
	SoakNeeded        // Time, Piece
	SoakRelaxes       // Number: share; Delta: core to surface
	SoakQuickest      // Number, Delta: the limits; by search
	HeatedFull
	HeatedWithin // Rate
	RuleHolds    // Name: rule
	SameRamp
	LeftToKiln   // Yes: with the power off; Stress, Most: zero when not given
	RuleRequires // Name: rule; Piece
	ControllerFastest
	SetsSlowly        // Delta: below the strain point; Piece, Stress, Most
	SetsFaster        // Piece
	SlowedForResidual // Piece, Stress, Most of what is left; Number: own tension [Pa]
	SlowedForTension  // Piece, Stress, Most
	ClosedFormRate    // Piece, Stress, Most
	SameHold
	HeatedInLimit  // Rate, Piece
	HeatedSlowed   // Rate, Piece
	EvensOut       // Time, Piece
	KilnFallsSo    // as fast as the kiln falls by itself
	SetsTogether   // Piece, Stress, Most
	TensionReaches // Piece, Stress, Most; Yes: while heating
)

// Where a warm kiln stays, and why there.
const (
	StaysAsStudio Kind = iota + 500
	StaysUsual
	StaysHottest
	StaysMarkFree
)

// What is to be said of a night that was logged.
const (
	LogEndsHot Kind = iota + 700 // Temp: of the last reading, above that at which the kiln is opened
)

// What lies in a piece and shrinks otherwise than its glass: what of it exceeds
// the limit of the surface, and what is to be said of it. No program removes it.
const (
	MisfitOver       Kind = iota + 800 // Name: what carries it; Stress: average, Own: worst, Most: limit
	MisfitUnproven                     // the same of the upper end of its range
	TogetherOver                       // Stress: with the program, average, Most; Own: of that the misfit; Yes: a slower program helps
	TogetherUnproven                   // the same of the worst case
	MisfitRemedy                       // Piece; Name: the stone, Lengths: the greatest, the least glass over it and its glass now, each 0 if there is none; with Yes it lies in the middle; or the color, with Yes one that expands more is kinder, with To 1 one nearer to the glass; Number: share by which the limit is exceeded
	MisfitAtSurface                    // Piece, Stress: with the program at worst, Most; Own: of that the misfit; Name: what carries it
	MisfitBuried                       // Piece, Name: the stone; Stress: with the program at worst; Own: of that the misfit; Lengths: critical radius, its own, flaw at once, flaw over years
	MisfitInLayer                      // Piece, Name: a buried layer; Stress, Own; Lengths[2]: flaw at once
	MisfitLoose                        // Piece, Name: what comes loose; Stress: how hard the glass pulls
	MisfitSets                         // Piece, Temp: where it sets under this program; Delta: the fall from there
	MisfitAssumed                      // Piece, Name: a color nobody stated; Number [1/K] either way
	MisfitGuessed                      // Piece, Name: what is known of it rests on no measurement
	MisfitCracks                       // Name: what cracks; Stress: average, for good; Most: at which the strongest tested glass broke
	LightFromInside                    // Piece, Name: what makes it dark, with Yes opaque
)

// What brings stones to the flame.
const (
	DriesHere     Kind = iota + 850 // Segment, Number: why it stops there, as package seal counts it
	WarmsTo                         // Temp: where the last water has left; Yes: something holds water
	NeedsOwnKiln                    // what is warmed cannot be laid into a kiln in which finished pieces of glass Name, or any, are held from Temp to Limit: Piece would carry Stress, Most; None, it must dry; Time: when from its start on they can lie beside, 0 if never
	CanLieBeside                    // it can: Piece would carry Stress, Most
	ReadyForFlame                   // Time: from the start on
)

// Why a load cannot share a program.
const (
	SoakBandLow     Kind = iota + 600 // Piece: must be soaked at Temp or above; Number: log10 Pa·s
	SoakBandHigh                      // Piece: marks above Temp; Number
	SoakBandHottest                   // Piece: bears no soak above Temp
	SoakBandError                     // Delta: how far the kiln may be off
	SoakBandNarrow                    // Delta: what must remain
	SoakTooLong                       // Piece needs Time at Temp; Other bears only Bears; None: itself
	NoneWithin                        // no shared program keeps every piece within its limits
	Unkeyable                         // Piece: the controller cannot be set for it, even alone; None: not for all of them; the answer holds the error
	NoSoakBorne                       // Temp to Limit: no soak relaxes every piece within Bears, which Piece bears
)

// String returns the number of the kind: for tests and debugging.
func (k Kind) String() string { return fmt.Sprintf("finding %d", int(k)) }
