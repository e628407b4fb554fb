package outfile

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// writerFolder is the variable that makes this binary a writer: see TestMain.
const writerFolder = "LEHR_TEST_WRITER"

// attacked are the outputs of the writer, of three kinds.
func attacked(dir string) []File {
	return []File{
		{Flag: "--output", Name: filepath.Join(dir, "program.toml"), Kind: TOML, What: "program"},
		{Flag: "--sheet", Name: filepath.Join(dir, "sheet.html"), Kind: HTML, What: "sheet"},
		{Flag: "--svg", Name: filepath.Join(dir, "curve.svg"), Kind: SVG, What: "curve"},
	}
}

// writeRound writes all outputs, each some hundred kilobytes that begin with
// the round.
func writeRound(dir string, round int) error {
	s := &Set{}
	for _, f := range attacked(dir) {
		text := fmt.Sprintf("round %d\n", round) + strings.Repeat("x = 1\n", 30_000)
		if err := s.Put(f, []byte(text)); err != nil {
			return err
		}
	}
	_, err := s.Commit()
	return err
}

// TestMain makes the binary a writer that never ends, if it is asked to.
func TestMain(m *testing.M) {
	dir := os.Getenv(writerFolder)
	if dir == "" {
		os.Exit(m.Run())
	}
	fmt.Println("begins")
	for round := 1; ; round++ {
		if err := writeRound(dir, round); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
}

// TestKilled kills a writer at random moments. Whatever the moment, every file
// is whole and of a round that was written, the next run writes, and nothing
// else is left in the folder. LEHR_LONG=1 kills it 60 times, LEHR_CAMPAIGN=1 500.
func TestKilled(t *testing.T) {
	if testing.Short() {
		t.Skip("starts processes")
	}
	kills := 25
	if os.Getenv("LEHR_LONG") != "" {
		kills = 60
	}
	if os.Getenv("LEHR_CAMPAIGN") != "" {
		kills = 500
	}
	dir := t.TempDir()
	left, mixed := 0, 0
	within := 40 * time.Millisecond
	for kill := range kills {
		if kill%5 == 4 && left == 0 { // a busy machine has not begun to write by then
			within *= 2
		}
		var words strings.Builder
		c := exec.Command(os.Args[0])
		c.Env = append(os.Environ(), writerFolder+"="+dir)
		c.Stderr = &words
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		if _, err := out.Read(make([]byte, 16)); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(rand.Int64N(int64(within))))
		c.Process.Kill()
		c.Wait()
		if words.Len() > 0 {
			t.Fatalf("kill %d: the writer says %s", kill, &words)
		}
		rounds := map[string]bool{}
		for _, f := range attacked(dir) {
			data, err := os.ReadFile(f.Name)
			if os.IsNotExist(err) && kill == 0 {
				rounds["none"] = true
				continue
			}
			if err != nil {
				t.Fatalf("kill %d: %v", kill, err)
			}
			if why := f.Kind.foreign(f.What, f.Name, int64(len(data))); why != "" {
				t.Fatalf("kill %d: %s %s", kill, f.Name, why)
			}
			first, _, _ := strings.Cut(string(data), "\n")
			rounds[first] = true
		}
		if len(rounds) > 1 {
			mixed++
		}
		entries, err := os.ReadDir(dir)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			if temporary.MatchString(e.Name()) {
				left++
				break
			}
		}
		if err := writeRound(dir, 0); err != nil {
			t.Fatalf("kill %d: the next run: %v", kill, err)
		}
		onlyFiles(t, dir, "curve.svg", "program.toml", "sheet.html")
		if t.Failed() {
			return
		}
	}
	t.Logf("%d kills: %d left temporary files, %d came between the renames", kills, left, mixed)
	if left == 0 {
		t.Error("no kill hit a run that was writing: the test shows nothing")
	}
}
