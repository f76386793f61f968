package main

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// A list of files is one that this program wrote, to the byte but for its line ends and their order, or it is refused:
// what it names may be replaced.
func FuzzParseListing(f *testing.F) {
	whole := string(listingOf(earlierDesign()).bytes())
	for _, seed := range []string{whole, strings.ReplaceAll(whole, "\n", "\r\n"), whole + "\n", checksum(nil) + "  ../spring.toml\n", checksum(nil) + "  design-files.txt"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		l, err := designOutputs().parseListing(data)
		if err != nil {
			return
		}
		for name := range l {
			if filepath.Base(name) != name || !designOutputs().owns(name) {
				t.Errorf("names %q", name)
			}
		}
		if again, err := designOutputs().parseListing(l.bytes()); err != nil || !cmp.Equal(l, again) {
			t.Errorf("%q is read as %v, and that as %v, %v", data, l, again, err)
		}
	})
}
