package main

import (
	"os"
	"path/filepath"
	"testing"
)

// TestDesktopStart tells a double click from a script, a pipe and a terminal.
func TestDesktopStart(t *testing.T) {
	null, err := os.OpenFile(os.DevNull, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer null.Close()
	file, err := os.Create(filepath.Join(t.TempDir(), "session-errors"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	read, write, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer read.Close()
	defer write.Close()
	tests := []struct {
		name string
		s    streams
		env  map[string]string
		want bool
	}{
		{"a desktop", streams{null, null, null}, map[string]string{"DISPLAY": ":0"}, true},
		{"a newer desktop that keeps what is printed", streams{null, file, file}, map[string]string{"WAYLAND_DISPLAY": "wayland-0"}, true},
		{"a timer without a display", streams{null, file, file}, nil, false},
		{"a script that reads the answer", streams{null, write, write}, map[string]string{"DISPLAY": ":0"}, false},
	}
	if terminal, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0); err == nil { // a terminal's other end is one, too
		defer terminal.Close()
		tests = append(tests, struct {
			name string
			s    streams
			env  map[string]string
			want bool
		}{"a terminal", streams{terminal, terminal, terminal}, map[string]string{"DISPLAY": ":0"}, false})
	}
	for _, test := range tests {
		if got := desktopStart(test.s, func(name string) string { return test.env[name] }); got != test.want {
			t.Errorf("%s: got %v, want %v", test.name, got, test.want)
		}
	}
}

// TestOwnFolder: it is made once, among the documents by whatever name the desktop has for them.
func TestOwnFolder(t *testing.T) {
	home := t.TempDir()
	want := func(folder string) {
		t.Helper()
		got, err := ownFolder(home)
		if info, statErr := os.Stat(got); err != nil || statErr != nil || !info.IsDir() || got != folder {
			t.Errorf("got %q, %v, %v; want %q", got, err, statErr, folder)
		}
	}
	want(filepath.Join(home, "springwright"))
	for _, folder := range []string{"Documents", "Documentos", ".config"} {
		if err := os.Mkdir(filepath.Join(home, folder), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	want(filepath.Join(home, "Documents", "springwright"))
	if err := os.WriteFile(filepath.Join(home, ".config", "user-dirs.dirs"), []byte("# made by a desktop\nXDG_DOCUMENTS_DIR=\"$HOME/Documentos\"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	want(filepath.Join(home, "Documentos", "springwright"))
	want(filepath.Join(home, "Documentos", "springwright")) // is there already
	if err := os.WriteFile(filepath.Join(home, ".config", "user-dirs.dirs"), []byte("XDG_DOCUMENTS_DIR=\"/gone\"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	want(filepath.Join(home, "Documents", "springwright"))
}
