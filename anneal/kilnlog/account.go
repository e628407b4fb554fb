package kilnlog

import (
	"time"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// Log is what a log of readings says, in order of time.
type Log struct {
	Name     string
	Readings []kiln.Reading // times count from the first, which is 0, and rise
	// Start is when the first reading was taken, in the zone of the log. What is
	// known of it says Known; without that it is zero.
	Start   time.Time
	Known   Known
	Account Account
	lines   []int32 // of the readings
	zones   []zoned // where it tells its offset from UTC
}

// Known says what of the moment of the first reading a log tells.
type Known int

// What can be known.
const (
	Nothing     Known = iota // times count from the start of the log
	TimeOfDay                // Start is on the first of January of the year 1
	DateAndTime              // in a zone that the log does not name; Start is in UTC by name only
	Moment                   // with the offset from UTC
)

// Clock returns the time of day of a moment of the log. ok is false if the log
// does not tell any.
func (l *Log) Clock(d time.Duration) (c unit.Clock, ok bool) {
	if l.Known == Nothing {
		return 0, false
	}
	return unit.ClockOf(l.in(l.Start.Add(d))), true
}

// Length is the time from the first reading to the last.
func (l *Log) Length() time.Duration { return l.Readings[len(l.Readings)-1].Time }

// Account is what was read, what was left out, and how it was understood.
type Account struct {
	Lines     int // of text
	Rows      int // of readings, kept or not
	Delimiter rune
	Comma     bool // decimals are marked by a comma
	Latin1    bool // the text is no UTF-8 and was read as Latin-1
	Preamble  int  // lines before the header
	Header    int  // line of the header, 0 if there is none
	Columns   []Column
	Dates     DateOrder // of dates as 03/04/2026, AnyOrder if there are none
	Settled   int       // line that settled Dates, 0 if an option did
	Left      []Left    // what was left out, in order of Reason
	Gaps      []Gap     // the longest first, at most mostGaps
	GapCount  int
	Interval  time.Duration // usual time between readings
	Means     time.Duration // readings are means over this time, 0 if as the log has them
	Step      unit.Delta    // the display counts in steps of this, 0 if no step shows
	Noise     unit.Delta    // standard deviation of the readings about a smooth curve
	Swing     Swing         // of the controller's relay
	Midnights int           // passed by a clock without dates
}

// Kept is how many readings were kept.
func (a *Account) Kept() int {
	n := a.Rows
	for _, l := range a.Left {
		if l.Reason.isReading() {
			n -= l.Count
		}
	}
	return n
}

// dropped returns how much was left out for a reason.
func (a *Account) dropped(r Reason) int {
	for _, l := range a.Left {
		if l.Reason == r {
			return l.Count
		}
	}
	return 0
}

// Column is how one column was understood.
type Column struct {
	Number     int    // from 1
	Name       string // as the header has it, "" without a header
	Role       Role
	Unit       Unit
	UnitByFlag bool // the unit comes from an option, not from the header
	Chosen     bool // an option named the column
	Beside     Beside
}

// Beside is how far another probe reads above the one that was chosen.
type Beside struct {
	Readings  int // rows in which both read something
	Mean      unit.Delta
	Deviation unit.Delta // standard deviation of the difference
}

// Role is what a column is read as.
type Role int

// The roles.
const (
	Unused   Role = iota
	TimeRole      // when a reading was taken
	DateRole      // the date, beside a column with the clock
	TempRole      // the reading
	TargetRole
	JunctionRole
	RoomRole
	BesideRole
)

var roleNames = [...]string{"not used", "time", "date", "reading", "what the controller aimed at", "junction of the thermocouple", "temperature of the room", "another probe"}

// String describes the role in a word or two.
func (r Role) String() string { return roleNames[r] }

// Left is how many rows were left out for one reason.
type Left struct {
	Reason Reason
	Count  int
	Line   int       // of the first
	Text   string    // of the first, as the log has it, "" if that was not kept
	Read   unit.Temp // what the first reads, zero if it reads nothing
}

// Reason says why a row was left out.
type Reason int

// The reasons.
const (
	Missing    Reason = iota // "---", empty, OPEN, 9999: the logger had no reading
	Impossible               // the reading cannot be true
	Repeated                 // the same time and the same reading again
	OutOfOrder               // up to a minute earlier than the row before
	Torn                     // the last line breaks off
	HeaderLine               // the header again, or a note of the logger
)

func (r Reason) isReading() bool { return r != Torn && r != HeaderLine }

// Gap is a stretch without readings.
type Gap struct {
	From, To kiln.Reading // the readings beside it
}

// Length of the gap.
func (g Gap) Length() time.Duration { return g.To.Time - g.From.Time }

// mostGaps is how many gaps an account lists.
const mostGaps = 20

// impossible leaves out a reading that was read but cannot be true.
func (a *Account) impossible(x row) {
	a.leave(Impossible, int(x.line), "")
	for i := range a.Left {
		if l := &a.Left[i]; l.Reason == Impossible && l.Line == int(x.line) {
			l.Read = unit.Kelvin(x.kelvin)
		}
	}
}

func (a *Account) leave(r Reason, line int, text string) {
	for i := range a.Left {
		if l := &a.Left[i]; l.Reason == r {
			l.Count++
			if line < l.Line {
				l.Line, l.Text = line, text
			}
			return
		}
	}
	a.Left = append(a.Left, Left{Reason: r, Count: 1, Line: line, Text: text})
}
