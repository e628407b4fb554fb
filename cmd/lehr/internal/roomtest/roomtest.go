// Package roomtest is what the tests of several rooms share.
package roomtest

import (
	"bytes"
	"io"
	"net/http"
	"os"
	"sync/atomic"
	"testing"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/glass"
	"lehr/glass/unit"
)

// Report plans the sample load, for a room that lies two folders below cmd.
func Report(t *testing.T, sys unit.System) *verify.Report {
	t.Helper()
	file, err := os.Open("../../../testdata/loads/mixed.toml")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	load, err := piece.ReadLoad(file, "mixed.toml", "", glass.Find)
	if err != nil {
		t.Fatal(err)
	}
	rep, err := plan.Plan(t.Context(), load, kiln.DefaultStudio().In(sys), plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return rep
}

// Answers counts what a crowd that asks for a sheet is answered: the sheet, or in
// plain words to come back. Anything else is a fault.
type Answers struct {
	Planned, Refused, Other atomic.Int32
}

// Get asks once and counts the answer.
func (a *Answers) Get(t *testing.T, client *http.Client, url string) {
	resp, err := client.Get(url)
	if err != nil {
		t.Error(err)
		return
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	switch {
	case err != nil:
		t.Error(err)
	case resp.StatusCode == http.StatusOK && bytes.Contains(body, []byte(`id="verdict"`)):
		a.Planned.Add(1)
	case resp.StatusCode == http.StatusServiceUnavailable && resp.Header.Get("Retry-After") != "" && bytes.Contains(body, []byte("Too many loads")):
		a.Refused.Add(1)
	default:
		a.Other.Add(1)
	}
}
