package desk

import (
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"lehr/glass/unit"
)

// TestFlagError: what was typed for a flag stands before what is wrong with it, once,
// whatever it says; and nothing of the library that read it.
func TestFlagError(t *testing.T) {
	for _, c := range []struct{ flag, value, want string }{
		{"count", "a", `x: --count: "a": is no whole number`},
		{"count", "is no whole number", `x: --count: "is no whole number": is no whole number`},
		{"count", "", `x: --count: "": is no whole number`},
		{"count", "99999999999999999999", `x: --count: "99999999999999999999": is too large a number`},
		{"all", "invalid", `x: --all: "invalid": is neither true nor false`},
		{"left", " 510 ", "x: --left: 510: has no unit"},
		{"left", "has no unit", "x: --left: has no unit: does not start with a number"},
		{"left", strings.Repeat("a", 70), "x: --left: " + strings.Repeat("a", 32) + "…: is too long (70 bytes, at most 64)"},
		{"units", "e", `x: --units: e: is not a display system; there are "c" (metric) and "f" (US)`},
	} {
		cmd := &cobra.Command{Use: "x"}
		cmd.Flags().Int("count", 0, "")
		cmd.Flags().Bool("all", false, "")
		cmd.Flags().Var(new(unit.Stress), "left", "")
		cmd.Flags().Var(new(SystemFlag), "units", "")
		err := cmd.ParseFlags([]string{"--" + c.flag + "=" + c.value})
		if got := FlagError(cmd, err); got == nil || got.Error() != c.want {
			t.Errorf("--%s=%q: %q, want %q", c.flag, c.value, got, c.want)
		}
	}
}
