package desk

import (
	"bytes"
	"io"
	"os"
	"testing"
	"time"

	"lehr/cmd/lehr/term"
)

// TestReadPipe: a pipe that never answers is said and given up; one that
// answers late is read, and can be read again.
func TestReadPipe(t *testing.T) {
	say, giveUp := sayAfter, giveUpSet
	sayAfter = 20 * time.Millisecond
	defer func() { sayAfter, giveUpSet = say, giveUp }()
	var words bytes.Buffer
	a := New(nil, io.Discard, &words, term.Terminal{UTF8: true})
	all := func(into *string) func(io.Reader) error {
		return func(r io.Reader) error {
			data, err := io.ReadAll(r)
			*into = string(data)
			return err
		}
	}
	var got string
	never, _ := io.Pipe()
	err := a.readPipe("never", 60*time.Millisecond, func() (io.ReadCloser, error) { return never, nil }, all(&got))
	if err == nil || err.Error() != "never: is a pipe that was silent for 60ms" {
		t.Errorf("error %v", err)
	}
	if words.String() != "lehr: waiting for never, a pipe that is silent; Ctrl-C ends this\n" {
		t.Errorf("said %q", &words)
	}
	words.Reset()
	if again := a.Read("never", all(&got)); again != err || words.Len() > 0 {
		t.Errorf("asked again: %v, said %q", again, &words)
	}
	late, writer := io.Pipe()
	go func() {
		for range 5 { // silent for 200 ms at a time, for a second in all
			time.Sleep(200 * time.Millisecond)
			io.WriteString(writer, "x\n")
		}
		writer.Close()
	}()
	err = a.readPipe("late", 800*time.Millisecond, func() (io.ReadCloser, error) { return late, nil }, all(&got))
	if err != nil || got != "x\nx\nx\nx\nx\n" {
		t.Errorf("read %q, %v", got, err)
	}
	if err = a.Read("late", all(&got)); err != nil || got != "x\nx\nx\nx\nx\n" {
		t.Errorf("read again %q, %v", got, err)
	}
	endless, err := os.Open(os.DevNull)
	if err != nil {
		t.Fatal(err)
	}
	defer endless.Close()
	err = a.readPipe("zeros", time.Second, func() (io.ReadCloser, error) { return io.NopCloser(zeros{}), nil }, all(&got))
	if err != nil || len(got) > 2<<20 {
		t.Errorf("read %d bytes of what never ends, %v", len(got), err)
	}
}

type zeros struct{}

func (zeros) Read(p []byte) (int, error) { return len(p), nil }
