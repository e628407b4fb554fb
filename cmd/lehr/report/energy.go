package report

import (
	"fmt"
	"unicode"

	"lehr/anneal/verify"

	"lehr/anneal/kiln"
)

// showEnergy prints the electricity of a program, nothing if the studio file
// does not say enough to estimate it.
func (v *View) showEnergy(rep *verify.Report) {
	if e, ok := rep.Energy(); ok {
		v.Prose(0, "Electricity: about "+energyText(e)+" (an estimate).")
	}
}

// energyText writes two significant digits: the estimate bears no more.
func energyText(e kiln.Energy) string {
	text := fmt.Sprintf("%.1f kWh", e.KWh())
	if e.KWh() >= 10 {
		text = fmt.Sprintf("%.0f kWh", e.KWh())
	}
	if e.Cost > 0 {
		if symbol := []rune(e.Currency); len(symbol) == 1 && !unicode.IsLetter(symbol[0]) {
			return fmt.Sprintf("%s, %s%.2f", text, e.Currency, e.Cost)
		}
		text += fmt.Sprintf(", %.2f %s", e.Cost, e.Currency)
	}
	return text
}

// energyJSON is the electricity of a program.
type energyJSON struct {
	KWh      Num     `json:"estimate_kWh"`
	Cost     *Num    `json:"estimate_cost"`
	Currency *string `json:"currency"`
	Capacity Num     `json:"heat_capacity_Wh_per_K"`
	ByDuty   bool    `json:"from_holding_duty"`
}

func newEnergyJSON(rep *verify.Report) *energyJSON {
	e, ok := rep.Energy()
	if !ok {
		return nil
	}
	j := &energyJSON{KWh: Num(e.KWh()), Capacity: Num(e.Capacity / 3600), ByDuty: e.ByDuty}
	if e.Cost > 0 {
		cost, currency := Num(e.Cost), e.Currency
		j.Cost, j.Currency = &cost, &currency
	}
	return j
}
