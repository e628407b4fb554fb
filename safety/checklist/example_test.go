package checklist_test

import (
	"fmt"
	"os"
	"time"

	"lehr/glass/unit"
	"lehr/safety/checklist"
)

// The lines for leaving a kiln alone with tonight's program.
func Example() {
	facts, err := checklist.FactsFrom(map[string]any{
		"kiln_current": "24 A", "breaker": "30 A", "unattended": true, "cut_off_tested": "2026-11-15",
		"overnight": false, "torch_used": false, "oxygen": "cylinder", "gas_burner": false,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	page := checklist.Leaving(facts, checklist.Program{End: "Fri 09:45", Soak: unit.Celsius(560), Hold: 75 * time.Minute})
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
	run := checklist.NewSession(checklist.Facts{ElementsExposed: checklist.No, KilnTemp: unit.Celsius(300)}, checklist.Reach)
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
	run := checklist.NewSession(checklist.Facts{ElementsExposed: checklist.No, KilnTemp: unit.Celsius(20)}, checklist.Reach)
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
