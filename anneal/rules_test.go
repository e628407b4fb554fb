package anneal

import "testing"

func TestRulesFile(t *testing.T) {
	f, err := parseRules(rulesTOML)
	if err != nil {
		t.Fatal(err)
	}
	if len(f.rules) != 5 {
		t.Errorf("%d rules, want 5", len(f.rules))
	}
}
