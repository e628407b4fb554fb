package kilnlog_test

import (
	"fmt"
	"math"
	"strings"
	"time"

	"lehr/anneal/kilnlog"
	"lehr/glass/unit"
)

func Example() {
	var text strings.Builder
	text.WriteString("Zeit;Ofen °C\n")
	start := time.Date(2026, 11, 25, 22, 15, 0, 0, time.UTC)
	for m := range 120 {
		celsius := 560 - math.Max(0, float64(m-30))
		fmt.Fprintf(&text, "%s;%.0f,0\n", start.Add(time.Duration(m)*time.Minute).Format("02.01.2006 15:04"), celsius)
	}
	l, err := kilnlog.Read(strings.NewReader(text.String()), "night.csv", kilnlog.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	began, _ := l.Clock(0)
	p, _ := l.Through(unit.Celsius(550), unit.Celsius(500))
	fmt.Println(len(l.Readings), "readings from", began, "on, every", unit.FormatDuration(l.Account.Interval))
	fmt.Println("through the range at", p.Rate.Rate.Text(unit.Metric))
	// Output:
	// 120 readings from 22:15 on, every 1 min
	// through the range at -60 °C/h
}
