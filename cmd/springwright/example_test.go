package main_test

import (
	"context"
	"fmt"
	"log"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"springwright/optimize"
	"springwright/presets"
)

// The library in a few lines; README.md shows them.
func Example() {
	_, wanted, err := presets.Case("cantilever") // or casefile.ReadCase, or a design.Case of your own
	if err != nil {
		log.Fatal(err)
	}
	wanted.Search.Starts = 2
	found, err := optimize.Search(context.Background(), wanted, optimize.Options{})
	if err != nil {
		log.Fatal(err)
	}
	first := found.Evaluation.Record.Positions[0]
	fmt.Println("meets its target:", found.Met())
	fmt.Println("extrudes:", first.Active.ForceN.Z < 0, "on the anchor as much the other way:", math.Abs(first.Active.ForceN.Z+first.Anchor.ForceN.Z) < 1e-9)
	// Output:
	// meets its target: true
	// extrudes: true on the anchor as much the other way: true
}

// README.md shows the lines of Example as they are.
func TestReadmeShowsTheExample(t *testing.T) {
	t.Parallel()
	code, err := os.ReadFile("example_test.go")
	if err != nil {
		t.Fatal(err)
	}
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, body, _ := strings.Cut(string(code), "func Example() {\n")
	body, _, _ = strings.Cut(body, "\t// Output:")
	if shown := strings.ReplaceAll(body, "\n\t", "\n")[1:]; !strings.Contains(string(readme), shown) {
		t.Errorf("README.md does not show\n%s", shown)
	}
}
