package shortest

import "testing"

// TestFloor_random: no program that a search without shortcuts found is shorter than
// the floor. Three large discs from a cold kiln were, by up to 6 %: the tension of
// heating counted with the whole factor of the rim.
func TestFloor_random(t *testing.T) {
	known := thoroughHours(t)
	every := 25
	if long() {
		every = 5
	}
	for n, hours := range known {
		if hours == 0 || n%every != 0 && n != 145 && n != 235 && n != 358 {
			continue
		}
		sv := solverOf(t, n)
		if f := sv.floor(); f.Total.Hours() > hours {
			t.Errorf("load %d, %s: a program takes %.2f h, the floor is %.2f h", n, describe(sv.load, sv.st), hours, f.Total.Hours())
		}
	}
}
