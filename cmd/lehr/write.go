package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// writeFile puts data into the named file, all or nothing: on failure the old
// file stays as it was, byte for byte, and no other file is left behind. An
// existing file keeps its permissions; a symbolic link keeps pointing to it.
func writeFile(name string, data []byte) (err error) {
	target, mode := name, fs.FileMode(0o644)
	if real, err := filepath.EvalSymlinks(name); err == nil {
		target = real
	}
	switch info, err := os.Stat(target); {
	case err == nil && info.IsDir():
		return fileError(name, errors.New("is a directory"))
	case err == nil && !info.Mode().IsRegular(): // a device or a named pipe
		return fileError(name, os.WriteFile(target, data, mode))
	case err == nil && info.Mode().Perm()&0o200 == 0:
		return fileError(name, errors.New("is write-protected"))
	case err == nil:
		mode = info.Mode().Perm()
	}
	temp, err := os.CreateTemp(filepath.Dir(target), "."+filepath.Base(target)+".*")
	if err != nil {
		return fileError(name, err)
	}
	defer func() {
		if err != nil {
			temp.Close()
			os.Remove(temp.Name())
			err = fileError(name, err)
		}
	}()
	if _, err = temp.Write(data); err != nil {
		return err
	}
	if err = temp.Chmod(mode); err != nil {
		return err
	}
	if err = temp.Sync(); err != nil {
		return err
	}
	if err = temp.Close(); err != nil {
		return err
	}
	return os.Rename(temp.Name(), target)
}
