package words

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"springwright/design"
)

// The readme says of every kind of spring what it is for, as the program does.
func TestReadmeListsEveryKindOfSpring(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range design.Families() {
		says := NewBook(English).KindFor(f)
		if says == "" {
			t.Errorf("kindsFor does not say what a %s is for", f.Name)
		} else if !strings.Contains(string(text), "\n| `"+f.Name+"` | "+says+" |\n") {
			t.Errorf("README.md has no row for %q that says %q", f.Name, says)
		}
	}
}
