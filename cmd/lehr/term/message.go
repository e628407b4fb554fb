package term

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"lehr/glass/strict"
)

// hinted is an error with one thing to do about it.
type hinted struct {
	error
	advice strict.Advice
}

func (e hinted) Hint() string          { return e.advice.String() }
func (e hinted) Advice() strict.Advice { return e.advice }
func (e hinted) Unwrap() error         { return e.error }

// WithHint adds one thing to do to an error.
func WithHint(err error, hint string) error { return WithAdvice(err, strict.Plain(hint)) }

// WithAdvice is WithHint for a hint that names settings.
func WithAdvice(err error, a strict.Advice) error { return hinted{err, a} }

// HintOf returns the hint of the first error in the chain that has one.
func HintOf(err error) string { return strict.AdviceOf(err).String() }

// PrintError writes the error, the line it points at if it knows one, and the
// hint if there is one. Each is one line, or wrapped to width columns if that
// is above zero.
func PrintError(w io.Writer, err error, ascii bool, width int) {
	message := err.Error()
	if errors.Is(err, context.Canceled) {
		message = "interrupted"
	}
	var b strings.Builder
	line := func(head, text string) {
		text = head + Clean(text)
		if ascii {
			text = ToASCII(text)
		}
		if width > 0 && !strings.Contains(text, "\n") {
			text = strings.TrimRight(Wrap(text, width, 0, 2), "\n")
		}
		b.WriteString(text + "\n")
	}
	line("lehr: error: ", message)
	var pointed interface{ Context() string }
	if errors.As(err, &pointed) {
		for line := range strings.Lines(pointed.Context()) {
			fmt.Fprintf(&b, "  %s\n", Clean(strings.TrimRight(line, "\r\n")))
		}
	}
	if hint := HintOf(err); hint != "" {
		line("lehr: hint: ", hint)
	}
	text := b.String()
	if ascii {
		text = ToASCII(text)
	}
	io.WriteString(w, text)
}

// Clean shows what could move the cursor or color a terminal, and shortens what
// repeats a long input: the text may come from a file.
func Clean(s string) string { return strict.Brief(strict.Visible(s)) }
