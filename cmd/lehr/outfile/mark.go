package outfile

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"os"
	"regexp"
	"strings"
)

// Kind is a format, and with it the way a file is marked as one that this
// program wrote. The mark holds a sum of everything else in the file, so that a
// file somebody has changed is not taken for it:
//
//   - TOML: a comment in the last line; who takes it out keeps the file;
//   - HTML, SVG: a comment behind the last element;
//   - PNG: a tEXt chunk behind the header;
//   - PDF: a comment before startxref;
//   - CSV has no room for words that every reader would skip. There the numbers of
//     the last row spell the sum by the zeros at their ends, which change no value:
//     what was saved by a spreadsheet has not got them.
type Kind int

// The kinds of file that are written.
const (
	TOML Kind = iota + 1
	HTML
	SVG
	PNG
	PDF
	CSV
)

// Ending returns the usual end of the name of such a file, with its dot.
func (k Kind) Ending() string {
	return [...]string{TOML: ".toml", HTML: ".html", SVG: ".svg", PNG: ".png", PDF: ".pdf", CSV: ".csv"}[k]
}

// largest is the size above which an existing file is not looked at, and
// counts as somebody else's.
const largest = 64 << 20

// words begin every mark.
const words = "lehr wrote this "

var (
	marked   = regexp.MustCompile(words + `([a-z ]+), and replaces it while nobody changes it \(([0-9a-f]{16})\)`)
	startRef = []byte("startxref")
)

// sentence is the text of the mark of a file.
func sentence(what string, rest []byte) string {
	sum := sha256.Sum256(append([]byte(what+"\n"), rest...))
	return fmt.Sprintf("%s%s, and replaces it while nobody changes it (%x)", words, what, sum[:8])
}

// mark returns the file with its mark.
func (k Kind) mark(what string, data []byte) []byte {
	if len(data) > 0 && data[len(data)-1] != '\n' && (k == TOML || k == HTML || k == SVG) {
		data = append(data[:len(data):len(data)], '\n')
	}
	if k == CSV {
		data, _ = spell(what, data)
		return data
	}
	text := sentence(what, data)
	at := len(data)
	switch k {
	case TOML:
		text = "# " + text + "\n"
	case HTML, SVG:
		text = "<!-- " + text + " -->\n"
	case PNG:
		at = pngHeader
		text = chunk("tEXt", "Software\x00"+text)
	case PDF:
		if at = bytes.LastIndex(data, startRef); at < 0 {
			return data
		}
		text = "% " + text + "\n"
	default:
		return data
	}
	if at > len(data) {
		return data
	}
	return bytes.Join([][]byte{data[:at], []byte(text), data[at:]}, nil)
}

// unmark takes the mark out: what the file is and the sum its mark states, or
// false if there is none at the place where this kind has it.
func (k Kind) unmark(data []byte) (what string, rest []byte, ok bool) {
	from, to := 0, len(data)
	switch k {
	case TOML, HTML, SVG:
		from = bytes.LastIndexByte(bytes.TrimSuffix(data, []byte("\n")), '\n') + 1
	case PNG:
		if from = pngHeader; len(data) < from+12 || string(data[from+4:from+8]) != "tEXt" {
			return "", nil, false
		}
		n := binary.BigEndian.Uint32(data[from:])
		if uint64(n) > uint64(len(data)-from-12) {
			return "", nil, false
		}
		to = from + 12 + int(n)
	case PDF:
		if to = bytes.LastIndex(data, startRef); to < 0 {
			return "", nil, false
		}
		from = bytes.LastIndexByte(bytes.TrimSuffix(data[:to], []byte("\n")), '\n') + 1
	default:
		return "", nil, false
	}
	m := marked.FindSubmatch(data[from:to])
	if m == nil {
		return "", nil, false
	}
	return string(m[1]), append(data[:from:from], data[to:]...), true
}

// foreign says why an existing file is not one that may be replaced, "" if it
// is one this program wrote and nobody changed.
func (k Kind) foreign(what, path string, size int64) string {
	const stranger = "exists, and lehr did not write it"
	if size > largest {
		return stranger
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return stranger
	}
	if k == CSV {
		if spelt, digits := spell(what, data); digits < fewestDigits || !bytes.Equal(spelt, data) {
			return "exists, and lehr did not write it as it is"
		}
		return ""
	}
	if !marked.Match(data) {
		return stranger
	}
	for of := TOML; of <= CSV; of++ {
		is, rest, ok := of.unmark(data)
		switch {
		case !ok || !bytes.Equal(of.mark(is, rest), data):
		case is != what:
			return "is a " + is + ", not a " + what
		case of == k:
			return ""
		}
	}
	return "was changed since lehr wrote it"
}

// pngHeader is the length of the signature and the first chunk of a PNG.
const pngHeader = 8 + 25

// chunk makes a chunk of a PNG.
func chunk(name, text string) string {
	body := name + text
	b := binary.BigEndian.AppendUint32(nil, uint32(len(text)))
	b = append(b, body...)
	return string(binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE([]byte(body))))
}

// fewestDigits is how many digits of the sum a CSV must have room for to be known.
const fewestDigits = 6

// spell gives the numbers at the end of the last row of a CSV as many zeros, and one,
// as the digits of the sum say, and returns how many it gave them to. The sum is that
// of the file without these zeros, so that to spell it again changes nothing.
func spell(what string, data []byte) (spelt []byte, digits int) {
	from := bytes.LastIndexByte(bytes.TrimSuffix(data, []byte("\n")), '\n') + 1
	cells := strings.Split(strings.TrimSuffix(string(data[from:]), "\n"), ",")
	first := len(cells)
	for first > 0 && number.MatchString(cells[first-1]) {
		first--
		cells[first] = strings.TrimRight(cells[first], "0")
	}
	sum := sha256.Sum256(fmt.Appendf(nil, "%s\n%s%q", what, data[:from], cells))
	for i := first; i < len(cells); i++ {
		cells[i] += "0000000000000000"[:1+sum[i%len(sum)]&15]
	}
	return fmt.Appendf(nil, "%s%s\n", data[:from], strings.Join(cells, ",")), len(cells) - first
}

var number = regexp.MustCompile(`^-?[0-9]+\.[0-9]+$`)
