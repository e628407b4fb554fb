package notes

import (
	"errors"
	"fmt"
	"io"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/kilnlog"
	"lehr/anneal/notebook"
	"lehr/anneal/program"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/glass/unit"
)

// fromLogs fills in what a record says of its kiln from the log that it names:
// the time constant of its fall and, with the program, the greatest lag. What
// the record itself says stands. why has what the log could not tell.
func fromLogs(a *desk.App, b Book, rec *notebook.Record, o kilnlog.Options, st kiln.Studio) (why []string) {
	if rec.Log.Path == "" || rec.Falls > 0 && rec.Lag != 0 {
		return nil
	}
	if state := b.state(rec.Log); state != asNoted {
		return []string{rec.Log.Path + " " + state.String()}
	}
	log, err := flags.ReadLog(a, b.place(rec.Log), o)
	if err != nil {
		return []string{err.Error()}
	}
	if log, err = firingOf(log, rec.Date, st.Opening); err != nil {
		return []string{rec.Log.Path + ": " + err.Error()}
	}
	if rec.Falls == 0 {
		fall, err := log.Fall(st.Kiln.Fall.Room, st.Opening)
		var none *kilnlog.NoFallError
		switch {
		case err == nil:
			rec.Falls = fall.Fall.TimeConstant
		case errors.As(err, &none):
			why = append(why, "no time constant: "+none.Error())
		default:
			why = append(why, err.Error())
		}
	}
	if rec.Lag == 0 && rec.Program.Path != "" {
		if rec.Lag, err = lagBehind(a, b, rec.Program, log); err != nil {
			why = append(why, "no lag: "+err.Error())
		}
	}
	return why
}

// firingOf returns the firing of a log that a record is of: the only one, or that
// of its date.
func firingOf(log *kilnlog.Log, date time.Time, opened unit.Temp) (*kilnlog.Log, error) {
	nights := log.Nights(opened)
	if len(nights) < 2 {
		return log, nil
	}
	if log.Known != kilnlog.DateAndTime && log.Known != kilnlog.Moment {
		return nil, fmt.Errorf("it has %d firings and no dates", len(nights))
	}
	const near = 12 * time.Hour // a kiln is heated before its program starts
	for _, n := range nights {
		start := n.Start
		if log.Known == kilnlog.DateAndTime { // by the clock on the wall
			start = time.Date(start.Year(), start.Month(), start.Day(), start.Hour(), start.Minute(), start.Second(), 0, date.Location())
		}
		if !date.Before(start.Add(-near)) && date.Before(start.Add(n.Length())) {
			return n, nil
		}
	}
	return nil, fmt.Errorf("none of its %d firings is of %s", len(nights), date.Format(minuteForm))
}

// lagBehind is how far a kiln was below its program at most while that rose.
func lagBehind(a *desk.App, b Book, file notebook.File, log *kilnlog.Log) (unit.Delta, error) {
	if state := b.state(file); state != asNoted {
		return 0, errors.New(file.Path + " " + state.String())
	}
	var s program.Schedule
	name := b.place(file)
	if err := a.ReadAs("kiln", desk.ScheduleFile, name, func(r io.Reader) (err error) {
		s, err = program.Read(r, desk.ShownName(name))
		return err
	}); err != nil {
		return 0, err
	}
	nominal, err := flags.NominalCurve(s)
	if err != nil {
		return 0, err
	}
	f := log.Compare(nominal, 0)
	if f.OtherScale != kilnlog.NoUnit {
		return 0, fmt.Errorf("the readings are far from the program, and would fit it in %s", f.OtherScale)
	}
	return max(0, -f.Behind.By()), nil
}
