package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// streams are the three files that a process is started with.
type streams struct{ in, out, err *os.File }

// onTerminal tells whether any of them is a terminal.
func (s streams) onTerminal() bool {
	for _, f := range []*os.File{s.in, s.out, s.err} {
		if isTerminal(f) && !isNull(f) {
			return true
		}
	}
	return false
}

// isNull tells whether a file is the null device, a character device without being a terminal.
func isNull(f *os.File) bool {
	info, err := f.Stat()
	null, err2 := os.Stat(os.DevNull)
	return err == nil && err2 == nil && os.SameFile(info, null)
}

// desktopStart tells whether a desktop has started the program where there is no terminal: there
// is a display, and nobody waits for what is printed. A script that calls the program by mistake
// without arguments reads its output by a pipe, or has no display.
func desktopStart(s streams, getenv func(string) string) bool {
	if s.onTerminal() || getenv("DISPLAY") == "" && getenv("WAYLAND_DISPLAY") == "" {
		return false
	}
	info, err := s.out.Stat()
	return err == nil && info.Mode()&os.ModeNamedPipe == 0
}

// ownFolderName is the folder of the cases of who starts the program by a double click.
const ownFolderName = "springwright"

// ownFolder makes the folder for the cases of a user without a terminal, if it is not there: in
// the documents, or in the home where there are none.
func ownFolder(home string) (string, error) {
	folder := filepath.Join(documents(home), ownFolderName)
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return "", &failure{code: exitOutput, text: fmt.Sprintf("the folder for the cases cannot be made: %v", err)}
	}
	return folder, nil
}

// documents is the folder that a desktop shows as that of the documents: in other languages it has
// other names, which desktops of Linux keep in user-dirs.dirs (xdg-user-dirs, a standard of
// freedesktop.org).
func documents(home string) string {
	list := []string{}
	text, err := os.ReadFile(filepath.Join(home, ".config", "user-dirs.dirs"))
	if err == nil {
		for line := range strings.Lines(string(text)) {
			if value, found := strings.CutPrefix(strings.TrimSpace(line), "XDG_DOCUMENTS_DIR="); found {
				list = append(list, strings.Replace(strings.Trim(value, `"`), "$HOME", home, 1))
			}
		}
	}
	for _, folder := range append(list, filepath.Join(home, "Documents")) {
		if info, err := os.Stat(folder); err == nil && info.IsDir() && filepath.IsAbs(folder) {
			return folder
		}
	}
	return home
}
