package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"crypto/md5"
	"fmt"
	"path"
	"regexp"
	"slices"
	"strings"
	"time"
)

// tarGz packs files, and the folders above them.
func tarGz(entries []entry, at time.Time) ([]byte, error) {
	var buf bytes.Buffer
	zw, err := gzip.NewWriterLevel(&buf, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	tw := tar.NewWriter(zw)
	made := map[string]bool{}
	for _, e := range entries {
		for _, folder := range foldersOf(e.name) {
			if made[folder] {
				continue
			}
			made[folder] = true
			if err := tw.WriteHeader(&tar.Header{Typeflag: tar.TypeDir, Name: folder + "/", Mode: 0o755, ModTime: at, Uname: "root", Gname: "root", Format: tar.FormatGNU}); err != nil {
				return nil, err
			}
		}
		if err := tw.WriteHeader(&tar.Header{Typeflag: tar.TypeReg, Name: e.name, Mode: int64(e.mode), Size: int64(len(e.data)), ModTime: at, Uname: "root", Gname: "root", Format: tar.FormatGNU}); err != nil {
			return nil, err
		}
		if _, err := tw.Write(e.data); err != nil {
			return nil, err
		}
	}
	if err := tw.Close(); err != nil {
		return nil, err
	}
	if err := zw.Close(); err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}

// foldersOf are the folders above a file, the outermost first, spelled as the
// file is.
func foldersOf(name string) []string {
	var out []string
	for i, c := range name {
		if c == '/' {
			out = append(out, name[:i])
		}
	}
	return out
}

// zipped packs files for Windows.
func zipped(entries []entry, at time.Time) ([]byte, error) {
	var buf bytes.Buffer
	zw := zip.NewWriter(&buf)
	for _, e := range entries {
		h := &zip.FileHeader{Name: e.name, Method: zip.Deflate, Modified: at}
		h.SetMode(e.mode)
		w, err := zw.CreateHeader(h)
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(e.data); err != nil {
			return nil, err
		}
	}
	err := zw.Close()
	return buf.Bytes(), err
}

// debMachines are the names that Debian has for the machines.
var debMachines = map[string]string{"amd64": "amd64", "arm64": "arm64", "armv7": "armhf"}

// notInVersion is what a version of Debian may not hold.
var notInVersion = regexp.MustCompile(`[^A-Za-z0-9.+~]`)

// deb makes a Debian package: an ar archive of a version, a control archive and
// the files by where they go.
func (r *release) deb(machine string) (name string, data []byte, err error) {
	arch, ok := debMachines[machine]
	if !ok {
		return "", nil, fmt.Errorf("linux-%s: Debian has no name for it", machine)
	}
	// 1.2.0-rc1 comes before 1.2.0, which a tilde says.
	version := notInVersion.ReplaceAllString(strings.TrimPrefix(r.version, "v"), "~")
	from, err := r.entries("linux-" + machine)
	if err != nil {
		return "", nil, err
	}
	var files []entry
	var terms []byte
	for _, e := range from {
		dir, base := path.Split(e.name)
		switch {
		case e.name == "lehr":
			e.name = "usr/bin/lehr"
		case dir == "man/":
			e.name = "usr/share/man/man1/" + base + ".gz"
			if e.data, err = gzipped(e.data); err != nil {
				return "", nil, err
			}
		case base == "lehr.bash":
			e.name = "usr/share/bash-completion/completions/lehr"
		case base == "_lehr":
			e.name = "usr/share/zsh/vendor-completions/_lehr"
		case base == "lehr.fish":
			e.name = "usr/share/fish/vendor_completions.d/lehr.fish"
		case e.name == "NOTICES.txt": // begins with the license
			terms = e.data
			continue
		case e.name == "mixed.toml":
			e.name = "usr/share/doc/lehr/examples/mixed.toml"
		case e.name == "CHANGES":
			e.name = "usr/share/doc/lehr/changelog.gz"
			if e.data, err = gzipped(e.data); err != nil {
				return "", nil, err
			}
		default:
			continue
		}
		files = append(files, e)
	}
	files = append(files, entry{"usr/share/doc/lehr/copyright", 0o644, terms})
	slices.SortFunc(files, func(a, b entry) int { return strings.Compare(a.name, b.name) })
	var size int
	var sums strings.Builder
	for i, e := range files {
		size += len(e.data)
		fmt.Fprintf(&sums, "%x  %s\n", md5.Sum(e.data), e.name)
		files[i].name = "./" + e.name
	}
	control := fmt.Sprintf(`Package: lehr
Version: %s
Architecture: %s
Maintainer: The lehr authors <authors@lehr.invalid>
Installed-Size: %d
Section: science
Priority: optional
Description: %s
 Plans the soak and the cooling of thick pieces of glass for a whole load,
 rounds the program to what the controller takes, and computes temperature and
 stress in every piece under exactly that program.
`, version, arch, (size+1023)/1024, strings.ToLower(summary[:1])+summary[1:])
	controlTar, err := tarGz([]entry{{"./control", 0o644, []byte(control)}, {"./md5sums", 0o644, []byte(sums.String())}}, r.time)
	if err != nil {
		return "", nil, err
	}
	dataTar, err := tarGz(files, r.time)
	if err != nil {
		return "", nil, err
	}
	return fmt.Sprintf("lehr_%s_%s.deb", version, arch), ar(r.time,
		entry{"debian-binary", 0o644, []byte("2.0\n")}, entry{"control.tar.gz", 0o644, controlTar}, entry{"data.tar.gz", 0o644, dataTar}), nil
}

// gzipped is data compressed, without a name or a time.
func gzipped(data []byte) ([]byte, error) {
	var buf bytes.Buffer
	zw, err := gzip.NewWriterLevel(&buf, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := zw.Write(data); err != nil {
		return nil, err
	}
	err = zw.Close()
	return buf.Bytes(), err
}

// ar packs files in the oldest of archive formats: a header of 60 bytes each,
// at even places.
func ar(at time.Time, entries ...entry) []byte {
	var b bytes.Buffer
	b.WriteString("!<arch>\n")
	for _, e := range entries {
		fmt.Fprintf(&b, "%-16s%-12d%-6d%-6d%-8s%-10d`\n", e.name, at.Unix(), 0, 0, "100644", len(e.data))
		b.Write(e.data)
		if len(e.data)%2 == 1 {
			b.WriteByte('\n')
		}
	}
	return b.Bytes()
}
