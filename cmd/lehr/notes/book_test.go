package notes

import (
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"lehr/anneal/notebook"
)

// TestRefer_large refers to a file that no memory should have to hold.
func TestRefer_large(t *testing.T) {
	dir := t.TempDir()
	photo := filepath.Join(dir, "photo.jpg")
	if err := os.WriteFile(photo, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(photo, 64<<20); err != nil {
		t.Fatal(err)
	}
	b := Book{dir}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f, err := b.refer(photo)
	// The sum is that of: head -c 67108864 /dev/zero | sha256sum
	const zeros = "3b6a07d0d404fab4e23b6d34bc6696a6a312dd92821332385e5af7c01c421351"
	if err != nil || f != (notebook.File{Path: "photo.jpg", SHA256: zeros}) {
		t.Fatalf("%+v, %v", f, err)
	}
	if state := b.state(f); state != asNoted {
		t.Error(state)
	}
	runtime.ReadMemStats(&after)
	if took := after.TotalAlloc - before.TotalAlloc; took > 1<<20 {
		t.Errorf("took %d bytes of memory", took)
	}
	for change, want := range map[string]fileState{"changed": changed, "gone": gone, "folder": noFile} {
		os.Remove(photo)
		switch change {
		case "changed":
			err = os.WriteFile(photo, []byte("x"), 0o644)
		case "folder":
			err = os.Mkdir(photo, 0o755)
		}
		if got := b.state(f); err != nil || got != want {
			t.Errorf("%s: %v, %v", change, got, err)
		}
	}
}
