package safety_test

import (
	"fmt"
	"os"
	"time"

	"lehr/glass/unit"
	"lehr/safety"
)

// The lines for leaving a kiln alone with tonight's program.
func Example() {
	facts, err := safety.FactsFrom(map[string]any{
		"kiln_current": "24 A", "breaker": "30 A", "unattended": true, "cut_off_tested": "2026-11-15",
		"overnight": false, "torch_used": false, "oxygen": "cylinder", "gas_burner": false,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	page := safety.Leaving(facts, safety.Program{End: "Fri 09:45", Soak: unit.Celsius(560), Hold: 75 * time.Minute})
	for _, l := range page.Lines {
		fmt.Printf("%s %s: %s\n", l.ID, l.Signal, l.Text)
	}
	// Output:
	// U1 WARNING: A second cut-off, separate from the controller, was tested on 2026-11-15. A stuck relay ignores the program.
	// U2 WARNING: Nothing that burns within the maker's clearance, commonly 30 cm, sometimes 45 cm. Nothing on the lid.
	// U3 WARNING: Own circuit: 24 A × 1.25 = 30 A, breaker 30 A, wire to match. Plug and cord feel cool. No extension cord.
	// U4 WARNING: Torch out. Cylinder valves shut. Lines bled. Oxygen off.
	// U8 NOTICE: On the kiln: phone number ____, set points 560 °C for 1 h 15 min, expected end Fri 09:45.
}

// A run that is stopped names what is open.
func ExampleSession() {
	run := safety.NewSession(safety.Facts{ElementsExposed: safety.No, KilnTemp: unit.Celsius(300)}, safety.Reach)
	line, _ := run.Line()
	fmt.Println(line.Text)
	if err := run.Done(""); err != nil {
		fmt.Println(err)
	}
	run.Stop()
	_, err := run.Record(time.Now())
	fmt.Println(err)
	// Output:
	// Tongs or rated gloves. Forearms covered. Face to one side of the opening.
	// 2 lines open: R5, R6
}

func ExampleRecord_WriteTOML() {
	run := safety.NewSession(safety.Facts{ElementsExposed: safety.No, KilnTemp: unit.Celsius(20)}, safety.Reach)
	run.Done("")
	run.NotApplicable(`nothing to take out; "look" only`)
	record, err := run.Record(time.Date(2026, 11, 25, 22, 15, 0, 0, time.UTC))
	if err != nil {
		fmt.Println(err)
		return
	}
	record.WriteTOML(os.Stdout)
	// Output:
	// # What a person reported done. Nothing was measured or inspected.
	// time = "2026-11-25T22:15:00Z"
	// list = "2026-11-25"
	// points = ["reach"]
	//
	// [facts]
	// kiln_temperature = "20 °C"
	// elements_exposed = "no"
	//
	// [[line]]
	// id = "R5"
	// at = "reach"
	// signal = "CAUTION"
	// words = "Path clear, resting place ready, nothing under it that can burn."
	// answer = "reported done"
	//
	// [[line]]
	// id = "R6"
	// at = "reach"
	// signal = "NOTICE"
	// words = "Door open as briefly as you can. The kiln loses its hold."
	// answer = "not applicable"
	// reason = "nothing to take out; \"look\" only"
}

// Mechanical Engineers' Handbook, vol. 4, Table 16, p. 183, row 3000 µm·K.
func ExampleBlackFraction() {
	f, err := safety.BlackFraction(3000e-6)
	fmt.Printf("%.4f %v\n", f, err)
	// Output: 0.2732 <nil>
}

// A 3-inch piece at 1200 °C, 300 mm from the eye.
func ExampleEye() {
	r, err := safety.Eye(unit.Celsius(1200), 3*unit.Inch, 300*unit.Millimeter, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f W/m², %.0f times the limit, lens at most %.1f %%\n", r.Irradiance, r.Times, 100*float64(r.MaxTransmittance))
	// Output: 2134 W/m², 21 times the limit, lens at most 4.7 %
}

// The worked value of the infrared limit for 7 s, 4182.63 W/m².
func ExampleInfraredLimit() {
	e, err := safety.InfraredLimit(7 * time.Second)
	fmt.Printf("%.0f W/m² %v\n", e, err)
	// Output: 4183 W/m² <nil>
}

// Study text, exam answer 5: 100 ft/min at 1 ft from a 3 ft² opening.
func ExampleDallaValleFlow() {
	q, err := safety.DallaValleFlow(safety.FeetPerMinute(100), safety.Feet(1), safety.SquareFeet(3))
	fmt.Println(q.Text(unit.US), err)
	// Output: 1300 cfm (2210 m³/h) <nil>
}

// Study text: 20,000 ft³ at 4000 cfm from 800 to 50 ppm takes 13.9 min.
func ExamplePurgeTime() {
	t, err := safety.PurgeTime(safety.CubicFeet(20000), safety.CFM(4000), 800, 50, 1)
	fmt.Printf("%.1f min %v\n", t.Minutes(), err)
	// Output: 13.9 min <nil>
}

// 29 CFR 1910.1000(d)(1)(ii): 150, 75 and 50 ppm for 2, 2 and 4 h.
func ExampleTimeWeighted() {
	e, err := safety.TimeWeighted([]float64{150, 75, 50}, []float64{2, 2, 4})
	fmt.Println(e, err)
	// Output: 81.25 <nil>
}

// 29 CFR 1910.1000(d)(2)(ii): three agents, an index of 0.925.
func ExampleMixtureIndex() {
	em, err := safety.MixtureIndex([]float64{500, 45, 40}, []float64{1000, 200, 200})
	fmt.Printf("%.3f %v\n", em, err)
	// Output: 0.925 <nil>
}

// A 5760 W kiln at 240 V.
func ExampleCircuitLoad() {
	rated, _ := safety.RatedCurrent(5760, 240)
	least, breaker, err := safety.CircuitLoad(rated)
	fmt.Println(rated.Text(unit.US), least.Text(unit.US), breaker.Text(unit.US), err)
	// Output: 24 A 30 A 30 A <nil>
}
