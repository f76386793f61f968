package orders

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"
	"unicode/utf16"

	"springwright/design/fault"
	"springwright/design/tooth"

	"github.com/google/go-cmp/cmp"
)

// starts are the demo and a case that has teeth joined to its anchor, as presets and as case files.
func starts(t testing.TB) Starts {
	t.Helper()
	read := func(name string) ([]byte, error) {
		if name != "demo" && name != "molar-unit" && name != "t-loop" {
			return nil, fmt.Errorf("%s cannot be read: no such file", name)
		}
		return os.ReadFile("../../presets/" + name + ".toml")
	}
	return Starts{Presets: []string{"demo", "molar-unit", "t-loop"}, Preset: read, CaseFile: read}
}

func readAll(t testing.TB, table string) []Order {
	t.Helper()
	list, err := ReadTable("o.csv", []byte(table), starts(t))
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func utf16Of(text string, little bool) []byte {
	var out []byte
	for _, u := range append([]uint16{0xfeff}, utf16.Encode([]rune(text))...) {
		if little {
			out = append(out, byte(u), byte(u>>8))
		} else {
			out = append(out, byte(u>>8), byte(u))
		}
	}
	return out
}

// The same two orders, as spreadsheets of several countries and systems save them.
func TestTablesOfSpreadsheets(t *testing.T) {
	t.Parallel()
	const commas = "order,preset,A now.along_mm,target.start.intrusive_n\nä-1,demo,12.25,0.3 to 0.6\n\"b \"\"2\"\"\",demo,13,0.4 ± 0.1\n"
	semicolons := strings.NewReplacer(",", ";", ".25", ",25", "0.", "0,").Replace(commas)
	for name, data := range map[string][]byte{
		"commas":                      []byte(commas),
		"byte-order mark":             []byte("\ufeff" + commas),
		"Windows lines":               []byte(strings.ReplaceAll(commas, "\n", "\r\n")),
		"old Mac lines":               []byte(strings.ReplaceAll(commas, "\n", "\r")),
		"no end of the last line":     []byte(strings.TrimSuffix(commas, "\n")),
		"semicolons, decimal commas":  []byte(semicolons),
		"sep":                         []byte("sep=;\r\n" + semicolons),
		"tabs":                        []byte(strings.ReplaceAll(semicolons, ";", "\t")),
		"UTF-16, little end":          utf16Of(strings.ReplaceAll(semicolons, ";", "\t"), true),
		"UTF-16, big end":             utf16Of(commas, false),
		"comments and blank rows":     []byte("# orders, of \"today\"\n\"# in quotes, and a comma\",,,\n\n,,,\n" + commas + ",,,\n# end\n"),
		"quoted heads and cells":      []byte("\"order\",\"preset\",\"A now.along_mm\",\"target.start.intrusive_n\"\n\"ä-1\",\"demo\",\"12.25\",\"0.3 to 0.6\"\n\"b \"\"2\"\"\",\"demo\",\"13\",\"0.4 ± 0.1\""),
		"heads in capitals, no point": []byte(strings.Replace(commas, "order,preset,A now.along_mm", "Order, PRESET ,a  Now.Along mm", 1)),
		"empty columns at the end":    []byte(strings.ReplaceAll(commas, "\n", ",,\n")),
	} {
		list, err := ReadTable("o.csv", data, starts(t))
		if err != nil || len(list) != 2 {
			t.Errorf("%s: %d orders, %v", name, len(list), err)
			continue
		}
		for i, want := range []struct {
			code            string
			along, min, max float64
		}{{"ä-1", 12.25, 0.3, 0.6}, {`b "2"`, 13, 0.3, 0.5}} {
			_, c, err := list[i].Case()
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			w := c.Target.Start.ForceN[tooth.ForceZ]
			if list[i].Code != want.code || c.Now.CentreMM.X != want.along || c.Code != list[i].Name || w.Min < want.min-1e-9 || w.Max > want.max+1e-9 {
				t.Errorf("%s: order %q along %g with %+v, case code %q", name, list[i].Code, c.Now.CentreMM.X, w, c.Code)
			}
		}
	}
}

// What cannot be understood is refused, with row and column.
func TestTablesThatAreRefused(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, table, want, hint string
	}{
		{"quote never closed", "order,preset\na,demo\n\"b,demo\nc,demo\n", "o.csv:3:1: row 3, column A: a quote is opened and never closed", "close it"},
		{"quote in the middle", "order,preset\na\"b,demo\n", `o.csv:2:1: row 2, column A: a quote stands in the middle of the cell`, "write a quote in it twice"},
		{"text behind a quote", "order,preset\na,\"de\"mo\n", `o.csv:2:2: row 2, column B: has text behind the closing quote`, ""},
		{"Windows-1252", "order,preset\nF\xfcrth,demo\n", "o.csv:2:1: row 2, column A: the byte fc is no text in UTF-8", `save the table as "CSV UTF-8"`},
		{"spreadsheet's own file", "PK\x03\x04abc", "is a spreadsheet's own file, not CSV", "from the spreadsheet"},
		{"unknown column", "order,preset,toth\na,demo,37\n", `o.csv:1:3: "toth" (cell C1): is no known column`, `did you mean "tooth"`},
		{"name", "order,Name,preset\na,x,demo\n", `"Name" (cell B1): is a column for what tells who the patient is`, "an order goes by its code"},
		{"patient in Spanish", "order;Paciente;preset\na;x;demo\n", `"Paciente" (cell B1): is a column for what tells who the patient is`, ""},
		{"birth in Portuguese", "order;data de nascimento\na;x\n", "is a column for what tells who the patient is", ""},
		{"column twice", "order,tooth,Tooth\na,37,37\n", `"Tooth" (cell C1): is the column B again`, ""},
		{"letter of another", "order,B now.along_mm\na,12\n", "has the letter B of the measuring sheet, but now.along_mm is not measured there", "write A now.along_mm"},
		{"no code column", "preset,tooth\ndemo,37\n", "row 1 has no column \"order\"", "--new FILE"},
		{"empty", "", "holds no order", ""},
		{"heads alone", "# x\norder,preset\n", "holds no order", ""},
	} {
		_, err := ReadTable("o.csv", []byte(c.table), starts(t))
		var list fault.List
		if !errors.As(err, &list) || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), c.hint) {
			t.Errorf("%s: got\n%v\nwant\n%s\n%s", c.name, err, c.want, c.hint)
		}
		if len(list) > 0 && (list[0].Line < 1 || list[0].Column < 1) {
			t.Errorf("%s: no place in %+v", c.name, list[0])
		}
	}
}

// All faults of all rows are found, each where it stands, and the other rows stand.
func TestFaultsOfRows(t *testing.T) {
	t.Parallel()
	list := readAll(t, "order,due,preset,case,tooth,side,A now.along_mm,target.start.intrusive_n,wire\n"+
		"good,,demo,,,,,,\n"+
		"a,31.02.2026,demmo,,99,up,x,1..2..3,\n"+
		"good,,demo,,,,,,\n"+
		"b,,demo,,37,right,400,,\n"+
		"c,,demo,t-loop,,,,,\n"+
		",,demo,,,,,,gold 0.016in\n"+
		"=1+1,,demo,,,,,,\n"+
		"\"d\n1\",,demo,,,,\"12,5\",,\n"+
		"e,03/04/2026,demo,,,,,,,too far\n"+
		"f,,,missing,,,,,\n"+
		"g,,demo,,37,,,5 to 6,\n"+
		"h,,,,37,,12.5,,\n")
	want := map[int][]string{
		3:  {"due (cell B3)", "preset (cell C3)", "tooth (cell E3)", "side (cell F3)", "target.start.intrusive_n (cell H3)"},
		4:  {"row 4"},
		5:  {"side (cell F5)", "A now.along_mm (cell G5)"},
		6:  {"case (cell D6)"},
		7:  {"order (cell A7)", "wire (cell I7)"},
		8:  {"order (cell A8)"},
		9:  {"order (cell A9)", "A now.along_mm (cell G9)"},
		10: {"due (cell B10)", "column J (cell J10)"},
		11: {"case (cell D11)"},
		12: {"row 12"},
		13: {"row 13"}, // all that is missing in one
	}
	got := map[int][]string{}
	for _, o := range list {
		_, _, err := o.Case()
		faults, _ := err.(fault.List)
		if err != nil && faults == nil {
			t.Errorf("row %d: %v is no list of faults", o.Row, err)
		}
		for _, f := range faults {
			if f.Line != o.Row || f.File != "o.csv" || f.Column < 1 {
				t.Errorf("row %d: place of %+v", o.Row, f)
			}
			got[o.Row] = append(got[o.Row], f.Key)
		}
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// On the other side of the mouth anchor and joined teeth are those in the mirror, a title about other teeth goes,
// and both sides are a spring and its twin.
func TestSides(t *testing.T) {
	t.Parallel()
	list := readAll(t, "order,preset,tooth,side\n"+
		"a,molar-unit,,left\n"+ // the preset is the patient's right
		"b,molar-unit,37,\n"+
		"c,molar-unit,,both\n"+
		"d,molar-unit,47,right\n"+
		"e,molar-unit,,\n")
	type side struct {
		Code, Name, Title string
		Twin              bool
		Teeth             tooth.Pair
		Joined            []tooth.Number
	}
	right, left := tooth.Pair{Active: 47, Anchor: 46}, tooth.Pair{Active: 37, Anchor: 36}
	var got []side
	for _, o := range list {
		_, c, err := o.Case()
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, side{o.Code, c.Code, "", o.Twin, c.Teeth, c.Anchorage.Joined})
		if (c.Title == "") != (c.Teeth == left) {
			t.Errorf("%s for %v is titled %q", o.Code, c.Teeth, c.Title)
		}
	}
	_, preset, err := readAll(t, "order,preset\nx,molar-unit\n")[0].Case()
	if err != nil || preset.Teeth != right || len(preset.Anchorage.Joined) == 0 {
		t.Fatalf("choose a preset of the right side with joined teeth: %v, %v", preset.Teeth, err)
	}
	joined := preset.Anchorage.Joined
	var mirrored []tooth.Number
	for _, n := range joined {
		mirrored = append(mirrored, n.Mirrored())
	}
	want := []side{
		{"a", "a", "", false, left, mirrored},
		{"b", "b", "", false, left, mirrored},
		{"c", "c", "", false, right, joined},
		{"c", "c-twin", "", true, left, mirrored},
		{"d", "d", "", false, right, joined},
		{"e", "e", "", false, right, joined},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// A cell takes the place of what the preset says the other way; a wire the place of the preset's.
func TestCellsReplaceWhatTheyContradict(t *testing.T) {
	t.Parallel()
	list := readAll(t, "order,preset,B now.apical_mm,B goal.occlusal_mm,wire,target.travel.lingual_n,target.start.intrusive_n,target.start.extrusive_n,target.travel.intrusive_n,target.travel.extrusive_n\n"+
		"a,demo,0.5,1.5,stainless steel 0.016x0.022in | beta-titanium 0.016x0.022in,0.1 to 0.2,,0.3 to 0.6,,0.05 to 0.6\n")
	text, c, err := list[0].Case()
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	if c.Now.CentreMM.Z != 0.5 || c.Goal.CentreMM.Z != -1.5 || c.Wire.Alloy != "stainless steel" || len(c.Choice.OtherWires) != 1 {
		t.Errorf("now %v, goal %v, wire %v and %d others", c.Now.CentreMM, c.Goal.CentreMM, c.Wire.Alloy, len(c.Choice.OtherWires))
	}
}

// The list to begin with works as it is, in both ways of writing it.
func TestNewTableWorks(t *testing.T) {
	t.Parallel()
	for _, semicolons := range []bool{false, true} {
		data := NewTable(semicolons)
		list, err := ReadTable("o.csv", data, starts(t))
		if err != nil || len(list) != 2 {
			t.Fatalf("%d orders, %v", len(list), err)
		}
		for _, o := range list {
			if _, _, err := o.Case(); err != nil {
				t.Error(err)
			}
		}
		for _, name := range Columns() {
			if !strings.Contains(string(data), " "+name) {
				t.Errorf("nothing is said of the column %s", name)
			}
		}
	}
}

// Every column can be named as the list to begin with names it, and takes a value that the case file takes: a
// key that is no key of a case would be found here.
func TestEveryColumnIsAKeyOfTheCaseFile(t *testing.T) {
	t.Parallel()
	all := columns()
	for _, c := range all[9:] {
		if got, text, _ := findColumn(all, letterOf(c)); text != "" || got.name != c.name {
			t.Errorf("%s: %s", c.name, text)
		}
		value := "1"
		if c.window {
			value = "0 to 1"
		}
		list := readAll(t, "order,preset,"+c.name+"\na,demo,"+value+"\n")
		if _, _, err := list[0].Case(); err != nil && (strings.Contains(err.Error(), "is not a known key") || strings.Contains(err.Error(), "unknown") || strings.Contains(err.Error(), "no key")) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

func letterOf(c column) string {
	if c.letter == "" {
		return c.name
	}
	return c.letter + " " + c.name
}

func FuzzReadTable(f *testing.F) {
	f.Add([]byte("order,preset,A now.along_mm\na,demo,12.5\n"))
	f.Add([]byte("sep=;\r\norder;preset;side\r\n\"a\nb\";demo;both\r\n"))
	f.Add(utf16Of("order\tpreset\nx\tdemo\n", true))
	f.Add(NewTable(true))
	from := starts(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := ReadTable("o.csv", data, from)
		if err != nil {
			var faults fault.List
			if !errors.As(err, &faults) || len(faults) == 0 || faults[0].Line < 1 || faults[0].Column < 1 || strings.ContainsAny(faults[0].Text, "\r\n") {
				t.Fatalf("error %v is no list of faults with places", err)
			}
			return
		}
		names := map[string]string{}
		for _, o := range list {
			lower := strings.ToLower(o.Name)
			if code, taken := names[lower]; taken && code != o.Code+fmt.Sprint(o.Twin) {
				t.Fatalf("%q and %q are both called %s", code, o.Code, o.Name)
			}
			names[lower] = o.Code + fmt.Sprint(o.Twin)
			text, c, err := o.Case()
			var faults fault.List
			switch {
			case err == nil && (c.Code != o.Name || len(text) == 0):
				t.Fatalf("order %q is the case %q", o.Code, c.Code)
			case err != nil && !errors.As(err, &faults):
				t.Fatalf("error %v is no list of faults", err)
			}
		}
	})
}
