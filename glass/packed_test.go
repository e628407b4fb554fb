package glass

import (
	"testing"

	"lehr/glass/casetest"
)

// TestTable_packed: the table that the program carries is the one that people read
// and edit.
func TestTable_packed(t *testing.T) { casetest.Packed(t, "table.toml", tableText()) }
