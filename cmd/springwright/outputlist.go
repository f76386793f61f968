package main

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// listing is what a command wrote into a directory: the SHA-256 of each file, in
// hexadecimal digits, by its name. It is kept there as a file in the format of the usual
// checking programs ("sha256sum -c"), so that nothing but what is in it, and still has
// these bytes, is ever replaced.
type listing map[string]string

func listingOf(files []output) listing {
	l := listing{}
	for _, f := range files {
		l[f.name] = checksum(f.data)
	}
	return l
}

func checksum(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

func (l listing) bytes() []byte {
	var names []string
	for name := range l {
		names = append(names, name)
	}
	slices.Sort(names)
	var b strings.Builder
	for _, name := range names {
		fmt.Fprintf(&b, "%s  %s\n", l[name], name)
	}
	return []byte(b.String())
}

// parseListing reads what bytes made. The error is about anything else: a file of the
// same name that somebody else wrote, or lines that somebody put in.
func (s outputSet) parseListing(data []byte) (listing, error) {
	l := listing{}
	for i, line := range strings.Split(strings.TrimSuffix(string(data), "\n"), "\n") {
		sum, name, ok := strings.Cut(strings.TrimSuffix(line, "\r"), "  ")
		if raw, err := hex.DecodeString(sum); !ok || err != nil || len(raw) != sha256.Size || !s.owns(name) || name == s.list {
			return nil, fmt.Errorf("line %d is not that of a list that this program wrote", i+1)
		}
		l[name] = sum
	}
	return l, nil
}

// standing are the files of earlier runs in a directory, or what is in the place of one.
type standing struct {
	names []string // sorted, the list of files among them
	list  []byte   // the file that lists the others; nil: there is none
}

// standingIn looks for what is in the way of the set.
func (s outputSet) standingIn(dir string) (standing, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return standing{}, unwritable(dir, err)
	}
	var found standing
	for _, e := range entries {
		if !s.owns(e.Name()) {
			continue
		}
		found.names = append(found.names, e.Name())
		if e.Name() == s.list && e.Type().IsRegular() {
			if found.list, err = os.ReadFile(filepath.Join(dir, e.Name())); err != nil {
				return standing{}, unwritable(dir, err)
			}
		}
	}
	return found, nil
}

// intact tells whether all files that the list names stand in dir as they were written.
func (s outputSet) intact(dir string) bool {
	found, err := s.standingIn(dir)
	if err != nil || found.list == nil {
		return false
	}
	listed, err := s.parseListing(found.list)
	for name, sum := range listed {
		err = errors.Join(err, unchanged(filepath.Join(dir, name), sum))
	}
	return err == nil
}

// mayGive tells whether what stands in dir may give way to new files. It may where an
// earlier run is known to have written it, nobody has changed it since, and force says so.
func (s outputSet) mayGive(found standing, dir string, force bool) error {
	if len(found.names) == 0 {
		return nil
	}
	if !force {
		return (&failure{code: exitOutput, text: fmt.Sprintf("%s holds %s already", dir, strings.Join(found.names, ", "))}).
			hint("--force replaces what an earlier run wrote, --out DIR writes elsewhere")
	}
	var reasons []string
	listed := listing{}
	if found.list != nil {
		var err error
		if listed, err = s.parseListing(found.list); err != nil {
			reasons = append(reasons, fmt.Sprintf("%s: %v", filepath.Join(dir, s.list), err))
			listed = listing{}
		}
	}
	for _, name := range found.names {
		if name == s.list && found.list != nil {
			continue
		}
		path := filepath.Join(dir, name)
		sum, known := listed[name]
		if !known {
			reasons = append(reasons, path+" is not known to be from an earlier run")
		} else if err := unchanged(path, sum); err != nil {
			reasons = append(reasons, err.Error())
		}
	}
	if len(reasons) == 0 {
		return nil
	}
	return (&failure{code: exitOutput, text: reasons[0], details: reasons[1:]}).
		hint("--force replaces only what an earlier run wrote, as it wrote it: move your files away, or name another directory by --out")
}

// unchanged tells whether a file is a plain one and has this checksum.
func unchanged(path, sum string) error {
	info, err := os.Lstat(path)
	if err != nil {
		return withoutOperation(path, err)
	}
	if !info.Mode().IsRegular() {
		return errors.New(path + " is not a file any more")
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return withoutOperation(path, err)
	}
	if checksum(data) != sum {
		return errors.New(path + " was changed after it was written")
	}
	return nil
}

// withoutOperation is a file's error without the operation and a second mention of the name.
func withoutOperation(path string, err error) error {
	var pathError *fs.PathError
	if errors.As(err, &pathError) {
		err = pathError.Err
	}
	return fmt.Errorf("%s: %w", path, err)
}
