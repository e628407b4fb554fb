package verify

import (
	"lehr/anneal/finding"
	"lehr/anneal/piece"
	"lehr/glass/unit"
)

// farFromSoak is how far outside the soak range of a glass a temperature must
// lie before it is doubted that its degrees were meant.
const farFromSoak = unit.Delta(60)

// noteOtherScale asks whether a program that soaks no piece was written in °F and
// meant in °C, or the other way: it says so if the number, read on the other
// scale, would be a soak.
func (rep *Report) noteOtherScale() {
	if rep.Replayed || rep.Load.Into == piece.WarmOnly {
		return
	}
	hottest := rep.Schedule.Hottest()
	if rep.Load.Into == piece.HotKiln {
		hottest = rep.Schedule.From
	}
	number, _ := hottest.In(unit.TypedIn(hottest))
	other := unit.Celsius(number)
	if unit.TypedIn(hottest) == unit.Metric {
		other = unit.Fahrenheit(number)
	}
	meant := false
	for _, p := range rep.Load.Pieces {
		low, high, err := piece.SoakRange(p.Glass)
		if err != nil || low.Sub(hottest) < farFromSoak && hottest.Sub(high) < farFromSoak {
			return
		}
		meant = meant || !other.Less(low) && !high.Less(other)
	}
	if meant {
		rep.Notes.First(finding.Of(finding.OtherScale).At(hottest).Against(other))
	}
}
