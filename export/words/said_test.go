package words

import (
	"crypto/sha256"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var (
	update = flag.Bool("update", false, "rewrite what is said in testdata")
	saidTo = flag.String("said", "", "`FILE` into which all is written that is said: what testdata/said.txt has a sum of")
)

// What is said of the samples, in English: one sentence of each form, and a sum over all of them in their order. Whoever
// changes how something is said looks at the difference: go test ./export/words -update, and with -args -said FILE before
// and after the change where only the sum differs.
func TestWhatIsSaid(t *testing.T) {
	t.Parallel()
	form := regexp.MustCompile(`[−+]?[\d.]+|\b(mesial|distal|buccal|labial|lingual|palatal|apical|occlusal|incisal|intrusive|extrusive|upper|lower|left|right)(ly)?\b`)
	var lines, all []string
	known := map[string]bool{}
	sayEverything(&Book{lacks: func(string) {}}, func(what ...any) {
		text := strings.TrimSpace(fmt.Sprintln(what...))
		all = append(all, text)
		if of := form.ReplaceAllString(text, ""); !known[of] {
			known[of] = true
			lines = append(lines, text)
		}
	})
	if *saidTo != "" {
		if err := os.WriteFile(*saidTo, []byte(strings.Join(all, "\n")+"\n"), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	slices.Sort(lines)
	got := strings.Join(lines, "\n") + fmt.Sprintf("\n\n%d in all, %.16x\n", len(all), sha256.Sum256([]byte(strings.Join(all, "\n"))))
	file := filepath.Join("testdata", "said.txt")
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}
