package desk

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"
	"sync"
	"time"

	"springwright/export"
)

// folder is the one folder that the desk reads and writes, through os.Root: no name leads out of
// it, nor does a link in it.
type folder struct {
	root *os.Root
	mu   sync.Mutex // a file is compared and replaced in one go
}

const (
	caseSuffix     = ".toml"
	largestFile    = 1 << 18 // as casefile reads
	longestName    = 100
	mostFilesShown = 1000
)

var (
	errName    = errors.New("a file name of the desk has up to 100 letters A–Z, digits, - _ and ., a letter or digit first, and ends in .toml")
	errChanged = errors.New("the file was changed by somebody else since it was read here")
	errThere   = errors.New("a file of this name is there already")
)

// fileName checks the name of a file that a request names.
func fileName(name string) error {
	plain := func(r rune) bool { return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' }
	bad := func(r rune) bool { return !plain(r) && !strings.ContainsRune("-_.", r) }
	if len(name) > longestName || !strings.HasSuffix(name, caseSuffix) || strings.ContainsFunc(name, bad) || !plain(rune(name[0])) {
		return errName
	}
	return nil
}

// list returns the names of the files that may be cases, in order.
func (f *folder) list() ([]string, error) {
	entries, err := fs.ReadDir(f.root.FS(), ".")
	if err != nil {
		return nil, err
	}
	var names []string
	for _, e := range entries {
		if e.Type().IsRegular() && fileName(e.Name()) == nil {
			names = append(names, e.Name())
		}
	}
	slices.Sort(names)
	return names[:min(len(names), mostFilesShown)], nil
}

// read returns a file and the tag of what is in it.
func (f *folder) read(name string) (text []byte, tag string, err error) {
	if err := fileName(name); err != nil {
		return nil, "", err
	}
	text, err = f.file(name)
	if err != nil {
		return text, "", err
	}
	return text, tagOf(text), nil
}

// plain returns the names of all plain files of the folder, in order.
func (f *folder) plain() ([]string, error) {
	entries, err := fs.ReadDir(f.root.FS(), ".")
	if err != nil {
		return nil, err
	}
	var names []string
	for _, e := range entries {
		if e.Type().IsRegular() {
			names = append(names, e.Name())
		}
	}
	return names, nil
}

// file reads a file of the folder, or of one below it.
func (f *folder) file(name string) ([]byte, error) { return f.fileUpTo(name, largestFile) }

// fileUpTo reads a file of so many bytes at most.
func (f *folder) fileUpTo(name string, most int64) ([]byte, error) {
	file, err := f.root.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	if info, err := file.Stat(); err != nil || !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is no plain file", name)
	}
	text, err := io.ReadAll(io.LimitReader(file, most+1))
	if err == nil && int64(len(text)) > most {
		err = fmt.Errorf("%s has more than the allowed %d bytes", name, most)
	}
	return text, err
}

// changed is when a file was written last; the zero time where that is not known.
func (f *folder) changed(name string) time.Time {
	info, err := f.root.Stat(name)
	if err != nil {
		return time.Time{}
	}
	return info.ModTime()
}

func tagOf(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:16])
}

// write replaces a file that still has the tag it was read with, or makes a new one for the tag
// "". A reader sees the old file or the new one, never half of it.
func (f *folder) write(name, tag string, text []byte) (newTag string, err error) {
	if err := fileName(name); err != nil {
		return "", err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	switch _, now, err := f.read(name); {
	case errors.Is(err, fs.ErrNotExist) && tag == "":
	case errors.Is(err, fs.ErrNotExist):
		return "", errChanged
	case err != nil:
		return "", err
	case tag == "":
		return "", errThere
	case now != tag:
		return "", errChanged
	}
	part := "." + name + "." + newToken()[:8] + ".part"
	if err := f.writePart(part, text); err != nil {
		f.root.Remove(part) // nothing half-written stays
		return "", err
	}
	if err := f.root.Rename(part, name); err != nil {
		f.root.Remove(part)
		return "", err
	}
	return tagOf(text), nil
}

func (f *folder) writePart(name string, text []byte) error {
	file, err := f.root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = file.Write(text)
	return errors.Join(err, file.Sync(), file.Close())
}

// writeNew writes files into a new folder, of the first name that is free: NAME, NAME-2 and so on. All are
// written, or nothing stays.
func (f *folder) writeNew(name string, files []export.File) (dir string, err error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	const mostTried = 1000
	for i := 1; ; i++ {
		dir = name
		if i > 1 {
			dir = fmt.Sprintf("%s-%d", name, i)
		}
		err := f.root.Mkdir(dir, 0o755)
		if err == nil {
			break
		}
		if !errors.Is(err, fs.ErrExist) || i == mostTried {
			return "", err
		}
	}
	for _, file := range files {
		if err := f.writePart(dir+"/"+file.Name, file.Data); err != nil {
			return "", errors.Join(err, f.root.RemoveAll(dir))
		}
	}
	return dir, nil
}
