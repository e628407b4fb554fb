package contents_test

import (
	"fmt"

	"lehr/anneal/seal/contents"
	"lehr/glass"
	"lehr/glass/unit"
)

func Example() {
	clear, _ := glass.Find("borosilicate-33")
	in, _ := contents.Finder{Clear: clear}.Parse(contents.Words{
		Inside: contents.Texts{"sphere 8mm of opal, 9mm deep"}, Skin: "cobalt 1mm"})
	stone := in.Inside[0]
	fmt.Println(stone.Material.Name, stone.Size.Text(unit.Metric), "holds water:", stone.Material.Hydrated)
	fmt.Println(in.Skin.Material.Name, "stated:", !in.Skin.Material.Unstated)
	// Output:
	// opal 8.0 mm holds water: true
	// cobalt stated: true
}
