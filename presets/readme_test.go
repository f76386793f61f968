package presets_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"springwright/design"
)

// The readme says of every kind of spring what it is for.
func TestReadmeListsEveryKindOfSpring(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile(filepath.Join("..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range design.Families() {
		if !strings.Contains(string(text), "\n| `"+f.Name+"` | "+f.For+" |\n") {
			t.Errorf("no row for %q that says %q", f.Name, f.For)
		}
	}
}
