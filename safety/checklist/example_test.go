package checklist_test

import (
	"fmt"
	"os"
	"time"

	"lehr/glass/unit"
	"lehr/safety/checklist"
)

var tonight = time.Date(2026, 11, 25, 22, 15, 0, 0, time.UTC)

// The lines for leaving a kiln alone with tonight's program.
func Example() {
	facts, err := checklist.FactsFrom(map[string]any{
		"kiln_current": "24 A", "breaker": "100 A", "unattended": true, "cut_off_tested": "2026-11-15",
		"overnight": false, "oxygen": "cylinder", "gas_burner": false,
	}, checklist.FromLoad, tonight)
	if err != nil {
		fmt.Println(err)
		return
	}
	page := facts.Leaving(checklist.Program{End: "Fri 09:45", Soak: unit.Celsius(560), Hold: 75 * time.Minute})
	for _, l := range page.Lines {
		fmt.Println(l.ID, l.Signal, l.Fault)
	}
	// Output:
	// U1 WARNING false
	// U2 WARNING false
	// U3 WARNING true
	// U4 WARNING false
	// U5 WARNING false
	// U8 CAUTION false
	// U9 NOTICE false
}

// A run that is stopped keeps what was answered, and names what is open.
func ExampleSession() {
	run := checklist.Facts{ElementsExposed: checklist.No, Today: tonight}.Session(checklist.Reach)
	run.Done(tonight, "")
	run.NotDone(tonight, `does not apply: we only "look"`)
	run.Stop()
	run.Record(tonight).WriteTOML(os.Stdout)
	// Output:
	// # What a person reported done. Nothing was measured or inspected.
	// time = "2026-11-25T22:15:00Z"
	// list = "2026-11-26"
	// points = ["reach"]
	// finished = false
	// open = ["R5", "R6"]
	//
	// [facts]
	// elements_exposed = "no"
	//
	// [[line]]
	// id = "R3"
	// at = "reach"
	// time = "2026-11-25T22:15:00Z"
	// signal = "CAUTION"
	// words = "Tongs or rated gloves. Forearms covered. Face to one side of the opening."
	// answer = "reported done"
	//
	// [[line]]
	// id = "R4"
	// at = "reach"
	// time = "2026-11-25T22:15:00Z"
	// signal = "CAUTION"
	// words = "Look in briefly, through infrared eyewear: the open kiln radiates too."
	// answer = "NOT DONE"
	// reason = "does not apply: we only \"look\""
	// shown_because = "kiln_temperature is not given; the line goes if kiln_temperature is 500 °C or less"
}
