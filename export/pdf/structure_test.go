package pdf

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
)

func TestDrawingsEndWithWhatPaints(t *testing.T) {
	// Operators' names inside strings are letters, not operators.
	content := "1 0 0 1 0 0 cm BT /F0 3 Tf 1 2 Td[( S ) 3 (a\\)f ((ET)))]TJ ET .5 G 0 0 m 1 1 l S 0 0 m 1 0 l 1 1 l h f* 2 w"
	pieces, rest := drawings([]byte(content))
	var got []string
	for _, p := range pieces {
		got = append(got, string(p))
	}
	want := []string{
		"1 0 0 1 0 0 cm BT /F0 3 Tf 1 2 Td[( S ) 3 (a\\)f ((ET)))]TJ ET",
		".5 G 0 0 m 1 1 l S", "0 0 m 1 0 l 1 1 l h f*",
	}
	if !slices.Equal(got, want) || string(rest) != " 2 w" {
		t.Errorf("pieces %q and %q", got, rest)
	}
	if pieces, _ := drawings([]byte("BT (never ends")); len(pieces) != 0 {
		t.Errorf("a string without its end: %q", pieces)
	}
}

// A page of a heading, a rule, a table of one row with two cells, and a figure.
func TestStructure(t *testing.T) {
	drawn := "BT ET 0 0 m 1 0 l S BT ET BT ET 0 0 m 1 1 l f 0 1 m 1 1 l f"
	file := raw([]int{5, 4, 1, 2, 3}, map[int]string{
		1: "<<>>", 2: "<<>>", 3: "<</Kids[4 0 R]>>", 4: "<</Type/Page/Contents 5 0 R/X 1>>", 5: deflatedProgram(t, []byte(drawn)),
	})
	structure := Structure{
		Elements: []Element{
			{Role: Heading, Parent: -1},
			{Role: Table, Parent: -1},
			{Role: Row, Parent: 1},
			{Role: HeadCell, Parent: 2, Reads: "b"},
			{Role: Cell, Parent: 2},
			{Role: Figure, Parent: -1, Alt: "a"},
		},
		Drawn: []int{0, Ornament, 3, 4, 5, 5},
	}
	finished, err := Finish([]byte(file), Info{Title: "x & y", Structures: []Structure{structure}})
	if err != nil {
		t.Fatal(err)
	}
	bodies, _ := readBack(t, finished)
	_, content := unpacked(t, bodies[5]+"\nendobj\n")
	if want := "/H2<</MCID 0>>BDC BT ET EMC /Artifact BMC 0 0 m 1 0 l S EMC /TH<</MCID 1>>BDC BT ET EMC " +
		"/TD<</MCID 2>>BDC BT ET EMC /Figure<</MCID 3>>BDC 0 0 m 1 1 l f 0 1 m 1 1 l f EMC "; content != want {
		t.Errorf("content %q, want %q", content, want)
	}
	for n, want := range map[int]string{
		4:  "<</Type/Page/Contents 5 0 R/X 1/StructParents 0/Tabs/S>>",
		6:  "<</Type/StructTreeRoot/K 7 0 R/ParentTree<</Nums[0[9 0 R 12 0 R 13 0 R 14 0 R]]>>/ParentTreeNextKey 1>>",
		7:  "<</S/Document/P 6 0 R/K[8 0 R]>>",
		8:  "<</S/Sect/P 7 0 R/K[9 0 R 10 0 R 14 0 R]>>",
		9:  "<</S/H2/P 8 0 R/Pg 4 0 R/K[0]>>",
		10: "<</S/Table/P 8 0 R/Pg 4 0 R/K[11 0 R]>>",
		11: "<</S/TR/P 10 0 R/Pg 4 0 R/K[12 0 R 13 0 R]>>",
		12: "<</S/TH/A<</O/Table/Scope/Column>>/P 11 0 R/Pg 4 0 R/K[1]/ActualText<FEFF0062>>>",
		13: "<</S/TD/P 11 0 R/Pg 4 0 R/K[2]>>",
		14: "<</S/Figure/P 8 0 R/Pg 4 0 R/K[3]/Alt<FEFF0061>>>",
	} {
		if bodies[n] != want {
			t.Errorf("object %d is %q, want %q", n, bodies[n], want)
		}
	}
	if !strings.Contains(bodies[1], "/MarkInfo<</Marked true>>/StructTreeRoot 6 0 R/Metadata 15 0 R") || !strings.Contains(bodies[15], ">x &amp; y<") {
		t.Errorf("catalogue %q, metadata %q", bodies[1], bodies[15])
	}

	structure.Drawn = structure.Drawn[:5]
	_, err = Finish([]byte(file), Info{Structures: []Structure{structure}})
	if want := "6 drawings on a page where 5 were drawn"; !errors.Is(err, ErrLayout) || !strings.Contains(fmt.Sprint(err), want) {
		t.Errorf("a drawing too many: error %v, want %q", err, want)
	}
	for name, page := range map[string]string{
		"no contents":        "<</Type/Page>>",
		"contents elsewhere": "<</Contents 9 0 R>>",
		"contents no number": "<</Contents [5 0 R]>>",
	} {
		broken := strings.Replace(file, "<</Type/Page/Contents 5 0 R/X 1>>", page+strings.Repeat(" ", 33-len(page)), 1)
		if _, err := Finish([]byte(broken), Info{Structures: []Structure{structure}}); !errors.Is(err, ErrLayout) {
			t.Errorf("%s: error %v, want ErrLayout", name, err)
		}
	}
	if _, err := Finish([]byte(file), Info{Structures: make([]Structure, 2)}); err == nil {
		t.Error("two structures for one page were taken")
	}
}
