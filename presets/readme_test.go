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
	for _, name := range design.FamilyNames() {
		if !strings.Contains(string(text), "\n| `"+name+"` | ") {
			t.Errorf("no row for %q", name)
		}
	}
}
