package glass_test

import (
	"fmt"
	"strings"

	"lehr/glass"
	"lehr/glass/unit"
)

func Example() {
	boro, err := glass.Find("boro")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(boro.Name, "anneals at", boro.Anneal.Text, "("+boro.Anneal.Status+")")
	limit, _ := boro.Isokom(glass.Compact)
	fmt.Println("compact pieces keep their shape for hours below", limit.Text(unit.Metric))
	// Output:
	// borosilicate-33 anneals at 560 ± 8 °C (corroborated)
	// compact pieces keep their shape for hours below 576 °C
}

func ExampleGlass_Curves() {
	float, _ := glass.Find("float")
	curves, _ := float.Curves()
	for _, c := range curves {
		t, _ := c.At(glass.LogStrain)
		fmt.Println(c.Name, t.Text(unit.Metric))
	}
	// Output:
	// strain-anneal-soften 511 °C
	// anneal-soften-work 520 °C
}

func ExampleLoad() {
	file := `
[[glass]]
name = "my-clear"
like = "soda-104"
annealing_point = "515 °C"
`
	table, err := glass.Load(strings.NewReader(file), "my.toml")
	if err != nil {
		fmt.Println(err)
		return
	}
	g := table.Glasses[0]
	fmt.Println(g.Strain.Text, "-", g.Strain.Note)
	// Output: 479 °C - taken from soda-104, moved with the annealing point
}
