// Command pack makes the files of a release out of programs that are built: an
// archive for each system, a Debian package for each Linux, a recipe for a
// package manager that builds from archives, and the sums of them all. The
// same input gives the same bytes: every time is that of the release, every
// owner is root, every list is sorted.
//
//	go run ./cmd/lehr/internal/pack -version v1.2.3 -time UNIX -stage DIR -out DIR
//
// The stage holds bin/SYSTEM/lehr, manual/man, manual/completions, and CHANGES.
// The rest is read from the folder it runs in, the top of the repository.
package main

import (
	"crypto/sha256"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

func main() {
	var r release
	var unix int64
	flag.StringVar(&r.version, "version", "", "the `version`, as lehr version prints it")
	flag.Int64Var(&unix, "time", 0, "the time of the release, in seconds since 1970")
	flag.StringVar(&r.stage, "stage", "", "the `folder` that holds what was built")
	flag.StringVar(&r.out, "out", "", "the `folder` to write to")
	flag.StringVar(&r.base, "base", "https://lehr.invalid", "where the archives can be fetched, for the recipe")
	flag.Parse()
	r.time, r.top = time.Unix(unix, 0).UTC(), "."
	if r.version == "" || unix == 0 || r.stage == "" || r.out == "" || flag.NArg() > 0 {
		flag.Usage()
		os.Exit(2)
	}
	if err := r.write(); err != nil {
		fmt.Fprintln(os.Stderr, "pack:", err)
		os.Exit(1)
	}
}

// release is what the files of a release are made of.
type release struct {
	version         string
	time            time.Time
	top, stage, out string
	base            string
}

// entry is a file of an archive.
type entry struct {
	name string
	mode fs.FileMode
	data []byte
}

// write writes all files of the release.
func (r *release) write() error {
	systems, err := os.ReadDir(filepath.Join(r.stage, "bin"))
	if err != nil {
		return err
	}
	if len(systems) == 0 {
		return errors.New("nothing was built")
	}
	sums := map[string]string{}
	save := func(name string, data []byte) error {
		sums[name] = fmt.Sprintf("%x", sha256.Sum256(data))
		return os.WriteFile(filepath.Join(r.out, name), data, 0o644)
	}
	archives := map[string]string{}
	for _, s := range systems {
		system := s.Name()
		entries, err := r.entries(system)
		if err != nil {
			return err
		}
		folder := "lehr-" + r.version + "-" + system
		for i := range entries {
			entries[i].name = folder + "/" + entries[i].name
		}
		name, pack := folder+".tar.gz", tarGz
		if strings.HasPrefix(system, "windows-") {
			name, pack = folder+".zip", zipped
		}
		data, err := pack(entries, r.time)
		if err != nil {
			return err
		}
		if err := save(name, data); err != nil {
			return err
		}
		archives[system] = name
		if machine, ok := strings.CutPrefix(system, "linux-"); ok {
			name, data, err := r.deb(machine)
			if err != nil {
				return err
			}
			if err := save(name, data); err != nil {
				return err
			}
		}
	}
	if recipe, ok := r.recipe(archives, sums); ok {
		if err := save("lehr.rb", []byte(recipe)); err != nil {
			return err
		}
	}
	var names []string
	for name := range sums {
		names = append(names, name)
	}
	slices.Sort(names)
	var list strings.Builder
	for _, name := range names {
		fmt.Fprintf(&list, "%s  %s\n", sums[name], name)
	}
	return os.WriteFile(filepath.Join(r.out, "SHA256SUMS"), []byte(list.String()), 0o644)
}

// entries are the files of the archive of a system, sorted.
func (r *release) entries(system string) ([]entry, error) {
	program := "lehr"
	if strings.HasPrefix(system, "windows-") {
		program += ".exe"
	}
	var out []entry
	var fault error
	add := func(name string, mode fs.FileMode, from string) {
		data, err := os.ReadFile(from)
		if err != nil && fault == nil {
			fault = err
		}
		out = append(out, entry{name, mode, data})
	}
	add(program, 0o755, filepath.Join(r.stage, "bin", system, program))
	add("LICENSE", 0o644, filepath.Join(r.top, "LICENSE"))
	add("NOTICES.txt", 0o644, filepath.Join(r.top, "cmd", "lehr", "notices.txt"))
	add("README.md", 0o644, filepath.Join(r.top, "README.md"))
	add("mixed.toml", 0o644, filepath.Join(r.top, "testdata", "loads", "mixed.toml"))
	add("CHANGES", 0o644, filepath.Join(r.stage, "CHANGES"))
	for _, kind := range []string{"man", "completions"} {
		if kind == "man" && strings.HasPrefix(system, "windows-") {
			continue
		}
		files, err := os.ReadDir(filepath.Join(r.stage, "manual", kind))
		if err != nil {
			return nil, err
		}
		if len(files) == 0 {
			return nil, fmt.Errorf("nothing in manual/%s", kind)
		}
		for _, f := range files {
			add(kind+"/"+f.Name(), 0o644, filepath.Join(r.stage, "manual", kind, f.Name()))
		}
	}
	slices.SortFunc(out, func(a, b entry) int { return strings.Compare(a.name, b.name) })
	return out, fault
}

// recipe is what a package manager needs to install the archives; false if one
// of the systems it knows was not built.
func (r *release) recipe(archives, sums map[string]string) (string, bool) {
	var b strings.Builder
	fmt.Fprintf(&b, `class Lehr < Formula
  desc "%s"
  homepage "%s"
  version "%s"
  license "MIT"

`, summary, r.base, strings.TrimPrefix(r.version, "v"))
	for _, on := range []struct{ system, word string }{{"macos", "on_macos"}, {"linux", "on_linux"}} {
		fmt.Fprintf(&b, "  %s do\n", on.word)
		for _, cpu := range []struct{ machine, word string }{{"arm64", "on_arm"}, {"amd64", "on_intel"}} {
			name := archives[on.system+"-"+cpu.machine]
			if name == "" {
				return "", false
			}
			fmt.Fprintf(&b, "    %s do\n      url \"%s/%s\"\n      sha256 \"%s\"\n    end\n", cpu.word, r.base, name, sums[name])
		}
		b.WriteString("  end\n\n")
	}
	b.WriteString(`  def install
    bin.install "lehr"
    man1.install Dir["man/*.1"]
    bash_completion.install "completions/lehr.bash" => "lehr"
    zsh_completion.install "completions/_lehr"
    fish_completion.install "completions/lehr.fish"
    doc.install "NOTICES.txt", "CHANGES"
    pkgshare.install "mixed.toml"
  end

  test do
    assert_match "Within limits", shell_output("#{bin}/lehr plan #{pkgshare}/mixed.toml")
  end
end
`)
	return b.String(), true
}

// summary is the program in one line.
const summary = "Turn a load of hot glass into a kiln program, and prove it"
