package desk

import (
	"bytes"
	"encoding/json"
	"fmt"

	"lehr/anneal/verify"
	"lehr/cmd/lehr/report"
)

// PrintJSON prints v indented by two, without HTML escapes, with a newline at
// the end. JSON is UTF-8 whatever the locale.
func (a *App) PrintJSON(v any) error {
	var buf bytes.Buffer
	enc := json.NewEncoder(&buf)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(v); err != nil {
		return fmt.Errorf("json: %w", err)
	}
	_, err := a.Out.Write(buf.Bytes())
	return err
}

// ReportJSON prints a report as JSON.
func (a *App) ReportJSON(rep *verify.Report) error {
	v, err := report.NewJSON(rep)
	if err != nil {
		return err
	}
	return a.PrintJSON(v)
}
