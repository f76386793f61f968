package pdf

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/image/font/gofont/goregular"
)

const rawHeader = "%PDF-1.7\n%\xFF\xFF\n"

// raw writes a file as the drawing package does: objects in the order given, and a
// cross-reference table in the order of their numbers.
func raw(numbers []int, bodies map[int]string) string {
	var b strings.Builder
	b.WriteString(rawHeader)
	offsets := map[int]int{}
	for _, n := range numbers {
		offsets[n] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", n, bodies[n])
	}
	start := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(numbers)+1)
	for n := 1; n <= len(numbers); n++ {
		fmt.Fprintf(&b, "%010d 00000 n \n", offsets[n])
	}
	fmt.Fprintf(&b, "trailer\n<</Root 1 0 R/Size %d/Info 2 0 R>>\nstartxref\n%d\n%%%%EOF\n", len(numbers)+1, start)
	return b.String()
}

// twoPages is a file of two pages, 4 and 5, without fonts.
func twoPages() string {
	return raw([]int{4, 5, 1, 2, 3}, map[int]string{
		1: "<</Type/Catalog/Pages 3 0 R>>", 2: "<</CreationDate(D:now)>>", 3: "<</Type/Pages/Kids[4 0 R 5 0 R]/Count 2>>",
		4: "<</Type/Page/A 1>>", 5: "<</Type/Page/B 2>>",
	})
}

// readBack takes a finished file apart by its cross-reference stream, with a reader of its
// own: the bodies by their numbers, and the dictionary of that stream.
func readBack(t *testing.T, file []byte) (bodies map[int]string, trailer string) {
	t.Helper()
	text := string(file)
	_, end, found := strings.Cut(text, "\nstartxref\n")
	if !found {
		t.Fatalf("no startxref in %q", text)
	}
	start, err := strconv.Atoi(strings.TrimSuffix(end, "\n%%EOF\n"))
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(text[start:], " 0 obj\n")
	trailer, table := unpacked(t, rest)
	bodies = map[int]string{}
	plain := func(number, offset int) string {
		rest, found := strings.CutPrefix(text[offset:], fmt.Sprintf("%d 0 obj\n", number))
		if !found {
			t.Fatalf("object %d is not at %d", number, offset)
		}
		body, _, _ := strings.Cut(rest, "\nendobj\n")
		return body
	}
	where := func(number int) (kind, second, third int) {
		e := table[7*number:]
		return int(e[0]), int(binary.BigEndian.Uint32([]byte(e[1:5]))), int(binary.BigEndian.Uint16([]byte(e[5:7])))
	}
	if kind, second, third := where(0); kind != 0 || second != 0 || third != 65535 {
		t.Fatalf("object 0 is %d %d %d", kind, second, third)
	}
	for number := 1; number < len(table)/7; number++ {
		kind, second, third := where(number)
		if kind == 1 {
			bodies[number] = plain(number, second)
			continue
		}
		_, offset, _ := where(second)
		dictionary, packed := unpacked(t, plain(second, offset)+"\nendobj\n")
		_, first, _ := strings.Cut(dictionary, "/First ")
		head, err := strconv.Atoi(first)
		if err != nil {
			t.Fatalf("packed objects %q", dictionary)
		}
		numbers := strings.Fields(packed[:head])
		if numbers[2*third] != fmt.Sprint(number) {
			t.Fatalf("object %d is not the %d. of %q", number, third, packed[:head])
		}
		at, _ := strconv.Atoi(numbers[2*third+1])
		bodies[number], _, _ = strings.Cut(packed[head+at:], "\n")
	}
	return bodies, trailer
}

// unpacked is a deflated stream's dictionary behind its length, and its data.
func unpacked(t *testing.T, object string) (dictionary, data string) {
	t.Helper()
	dictionary, rest, _ := strings.Cut(object, ">>stream\n")
	rest, _, _ = strings.Cut(rest, "\nendstream\n\nendobj\n")
	dictionary, found := strings.CutPrefix(dictionary, fmt.Sprintf("<</Filter/FlateDecode/Length %d", len(rest)))
	inflate, err := zlib.NewReader(strings.NewReader(rest))
	if err != nil || !found {
		t.Fatalf("stream %q: %v", dictionary, err)
	}
	inflated, err := io.ReadAll(inflate)
	if err != nil {
		t.Fatal(err)
	}
	return dictionary, string(inflated)
}

func TestFinishedFile(t *testing.T) {
	info := Info{Title: "T", Subject: "S", Producer: "P 1", Lang: "en", Date: "2026-11-24", Pages: []string{"a", "b"}}
	file, err := Finish([]byte(twoPages()), info)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(string(file), rawHeader) {
		t.Errorf("the file starts with %q", file[:20])
	}
	bodies, trailer := readBack(t, file)
	for n, want := range map[int]string{
		1: "<</Type/Catalog/Pages 3 0 R/Lang<FEFF0065006E>/ViewerPreferences<</PrintScaling/None/PickTrayByPDFSize true/DisplayDocTitle true/Duplex/Simplex>>/Outlines 6 0 R>>",
		2: "<</Title<FEFF0054>/Subject<FEFF0053>/Producer<FEFF005000200031>/CreationDate(D:20261124000000+00'00')/ModDate(D:20261124000000+00'00')>>",
		3: "<</Type/Pages/Kids[4 0 R 5 0 R]/Count 2>>",
		4: "<</Type/Page/A 1>>",
		5: "<</Type/Page/B 2>>",
		6: "<</Type/Outlines/First 7 0 R/Last 8 0 R/Count 2>>",
		7: "<</Title<FEFF0061>/Parent 6 0 R/Dest[4 0 R/Fit]/Next 8 0 R>>",
		8: "<</Title<FEFF0062>/Parent 6 0 R/Dest[5 0 R/Fit]/Prev 7 0 R>>",
	} {
		if bodies[n] != want {
			t.Errorf("object %d is %q, want %q", n, bodies[n], want)
		}
	}
	// The ID is the first half of the sum of all that stands before the table.
	_, end, _ := strings.Cut(string(file), "\nstartxref\n")
	start, _ := strconv.Atoi(strings.TrimSuffix(end, "\n%%EOF\n"))
	sum := sha256.Sum256(file[:start])
	if want := fmt.Sprintf("/Type/XRef/W[1 4 2]/Size 11/Root 1 0 R/Info 2 0 R/ID[<%x><%x>]", sum[:16], sum[:16]); trailer != want {
		t.Errorf("trailer %q, want %q", trailer, want)
	}

	// Nothing is written for what is not given.
	file, err = Finish([]byte(twoPages()), Info{})
	if err != nil {
		t.Fatal(err)
	}
	bodies, _ = readBack(t, file)
	if len(bodies) != 6 || bodies[2] != "<<>>" || strings.Contains(bodies[1], "Outlines") {
		t.Errorf("without title, date and bookmarks: %v", bodies)
	}
	if _, err := Finish([]byte(twoPages()), Info{Pages: []string{"one"}}); err == nil || !strings.Contains(err.Error(), "1 bookmarks for 2 pages") {
		t.Errorf("one bookmark for two pages: error %v", err)
	}
	if _, err := Finish([]byte(twoPages()), Info{Date: "24 November"}); err == nil || !strings.Contains(err.Error(), "24 November") {
		t.Errorf("a date in words: error %v", err)
	}
}

// deflated is an object that holds a font program, as the drawing package writes it.
func deflatedProgram(t *testing.T, program []byte) string {
	t.Helper()
	var b bytes.Buffer
	w := zlib.NewWriter(&b)
	if _, err := w.Write(program); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return fmt.Sprintf("<</Filter/FlateDecode/Length %d>>stream\n%s\nendstream\n", b.Len(), b.String())
}

// withFont is a file of one page, 4, with a font, 5, and its program, 6.
func withFont(file, program string) string {
	return raw([]int{6, 5, 4, 1, 2, 3}, map[int]string{
		1: "<</Type/Catalog>>", 2: "<<>>", 3: "<</Kids[4 0 R]>>", 4: "<</Type/Page>>", 5: "<</Type/FontDescriptor/" + file + " 6 0 R>>", 6: program,
	})
}

// modifiedAt is where a TrueType program keeps the time of its last change, and where the
// time of its making.
func modifiedAt(program []byte) (modified, created []byte) {
	for i := range int(binary.BigEndian.Uint16(program[4:])) {
		if record := program[12+16*i:]; string(record[:4]) == "head" {
			head := program[binary.BigEndian.Uint32(record[8:]):]
			return head[28:36], head[20:28]
		}
	}
	return nil, nil
}

func TestFontsAreFrozen(t *testing.T) {
	program := bytes.Clone(goregular.TTF)
	modified, _ := modifiedAt(program)
	copy(modified, "\x00\x00\x00\x00\x12\x34\x56\x78")
	file, err := Finish([]byte(withFont("FontFile2", deflatedProgram(t, program))), Info{Pages: []string{"a"}})
	if err != nil {
		t.Fatal(err)
	}
	bodies, _ := readBack(t, file)
	dictionary, data, found := strings.Cut(bodies[6], ">>stream\n")
	if !found {
		t.Fatalf("the font is no stream: %.80q", bodies[6])
	}
	data = strings.TrimSuffix(data, "\nendstream\n")
	if want := fmt.Sprintf("<</Filter/FlateDecode/Length %d/Length1 %d", len(data), len(program)); dictionary != want {
		t.Errorf("dictionary %q, want %q", dictionary, want)
	}
	inflate, err := zlib.NewReader(strings.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	frozen, err := io.ReadAll(inflate)
	if err != nil || len(frozen) != len(program) {
		t.Fatalf("%d bytes (%v), want %d", len(frozen), err, len(program))
	}
	if modified, created := modifiedAt(frozen); !bytes.Equal(modified, created) {
		t.Errorf("modified %x, created %x: want them alike", modified, created)
	}
	// An object may name two.
	both := raw([]int{6, 7, 5, 4, 1, 2, 3}, map[int]string{
		1: "<<>>", 2: "<<>>", 3: "<</Kids[4 0 R]>>", 4: "<<>>", 5: "<</FontFile2 6 0 R/Other<</FontFile2 7 0 R>>>>", 6: deflatedProgram(t, program), 7: deflatedProgram(t, program),
	})
	if file, err = Finish([]byte(both), Info{}); err != nil {
		t.Fatal(err)
	}
	if again, _ := readBack(t, file); again[6] != bodies[6] || again[7] != bodies[6] {
		t.Error("of two fonts that one object names, one was not frozen")
	}
	// A stream that no font descriptor names stays as it is.
	other := raw([]int{6, 5, 4, 1, 2, 3}, map[int]string{1: "<<>>", 2: "<<>>", 3: "<</Kids[4 0 R]>>", 4: "<<>>", 5: "<<>>", 6: deflatedProgram(t, program)})
	if file, err = Finish([]byte(other), Info{}); err != nil {
		t.Fatal(err)
	}
	if bodies, _ := readBack(t, file); bodies[6] != deflatedProgram(t, program) {
		t.Error("a stream that is no font was changed")
	}
}

func TestOtherFontsAreRefused(t *testing.T) {
	good := deflatedProgram(t, goregular.TTF)
	head := func(change func(record, program []byte)) string {
		program := bytes.Clone(goregular.TTF)
		for i := range int(binary.BigEndian.Uint16(program[4:])) {
			if record := program[12+16*i:]; string(record[:4]) == "head" {
				change(record, program)
			}
		}
		return deflatedProgram(t, program)
	}
	length := func(n uint32) string {
		return head(func(record, _ []byte) { binary.BigEndian.PutUint32(record[12:], n) })
	}
	for name, c := range map[string]struct{ file, program, words string }{
		"another kind":      {"FontFile3", good, "not TrueType"},
		"another filter":    {"FontFile2", strings.Replace(good, "/FlateDecode", "/LZWDecode", 1), "not one deflated stream"},
		"no stream":         {"FontFile2", "<<>>", "not one deflated stream"},
		"not deflated":      {"FontFile2", "<</Filter/FlateDecode/Length 5>>stream\nhello\nendstream\n", "font program"},
		"cut short":         {"FontFile2", cutStream(good), "font program"},
		"not TrueType":      {"FontFile2", deflatedProgram(t, append([]byte("OTTO"), goregular.TTF[4:]...)), "is not TrueType"},
		"eleven bytes":      {"FontFile2", deflatedProgram(t, goregular.TTF[:11]), "is not TrueType"},
		"records cut short": {"FontFile2", deflatedProgram(t, goregular.TTF[:12+16*int(goregular.TTF[5])-1]), "is cut short"},
		"no head":           {"FontFile2", head(func(record, _ []byte) { copy(record, "haed") }), "no head table"},
		"short head":        {"FontFile2", length(53), "head table is 53 bytes long"},
		"long head":         {"FontFile2", length(1 << 30), "head table is 1073741824 bytes long"},
	} {
		_, err := Finish([]byte(withFont(c.file, c.program)), Info{})
		if !errors.Is(err, ErrLayout) || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%s: error %v, want ErrLayout with %q", name, err, c.words)
		}
	}
}

// cutStream is a deflated stream without its second half.
func cutStream(object string) string {
	_, data, _ := strings.Cut(object, ">>stream\n")
	data = strings.TrimSuffix(data, "\nendstream\n")
	data = data[:len(data)/2]
	return fmt.Sprintf("<</Filter/FlateDecode/Length %d>>stream\n%s\nendstream\n", len(data), data)
}

// The smallest font programs that are read, and the largest that are not.
func TestFontLimits(t *testing.T) {
	empty := make([]byte, 12)
	binary.BigEndian.PutUint32(empty, 0x00010000)
	if err := freezeModified(empty); err == nil || !strings.Contains(err.Error(), "no head table") {
		t.Errorf("a font without tables: error %v, want that it has no head", err)
	}
	// One table, head, of 54 bytes behind its record: just long enough.
	font := append(bytes.Clone(empty), make([]byte, 16+54)...)
	font[5] = 1
	copy(font[12:], "head")
	binary.BigEndian.PutUint32(font[20:], 28)
	binary.BigEndian.PutUint32(font[24:], 54)
	copy(font[28+20:], "CREATED!MODIFIED")
	short := bytes.Clone(font[:len(font)-1])
	if err := freezeModified(font); err != nil {
		t.Fatal(err)
	}
	if got := string(font[28+28 : 28+36]); got != "CREATED!" {
		t.Errorf("modified is %q, want what created is", got)
	}
	// The record's sum is the table's with an adjustment of 0; the whole file's is fixed
	// (OpenType specification, the head table).
	table := bytes.Clone(font[28:])
	clear(table[8:12])
	if got, want := binary.BigEndian.Uint32(font[16:]), checksum(table); got != want {
		t.Errorf("sum of the table %#x, want %#x", got, want)
	}
	if got := checksum(font); got != 0xB1B0AFBA {
		t.Errorf("sum of the file %#x, want 0xB1B0AFBA", got)
	}
	if err := freezeModified(short); err == nil {
		t.Error("a head table that runs one byte over the end was read")
	}
}

func TestBrokenFilesAreRefused(t *testing.T) {
	good := twoPages()
	start := strings.Index(good, "xref\n0 ")
	number := fmt.Sprint(start)
	replaced := func(old, new string) string {
		if !strings.Contains(good, old) {
			t.Fatalf("%q is not in the file", old)
		}
		return strings.Replace(good, old, new, 1)
	}
	first := fmt.Sprintf("%010d 00000 n \n", strings.Index(good, "4 0 obj"))
	for name, c := range map[string]struct{ file, words string }{
		"no PDF":                    {replaced("%PDF-", "%PDF "), "no %PDF-"},
		"no end":                    {strings.TrimSuffix(good, "\n"), "no startxref"},
		"start at the end":          {replaced("startxref\n"+number, "startxref\n"+fmt.Sprint(len(good))), "cross-reference table at " + fmt.Sprint(len(good))},
		"start beyond all numbers":  {replaced("startxref\n"+number, "startxref\n99999999999999999999"), "cross-reference table at"},
		"start elsewhere":           {replaced("startxref\n"+number, "startxref\n"+fmt.Sprint(start+1)), "no single-section"},
		"two sections":              {replaced("xref\n0 6", "xref\n1 6"), "no single-section"},
		"three objects":             {replaced("xref\n0 6", "xref\n0 3"), "table of 3 entries"},
		"more entries than bytes":   {replaced("xref\n0 6", "xref\n0 60"), "table of 60 entries"},
		"a free entry":              {replaced(first, strings.Replace(first, " n ", " f ", 1)), "cross-reference entry 4"},
		"an offset in the table":    {replaced(first, fmt.Sprintf("%010d 00000 n \n", start)), "cross-reference entry 4"},
		"an offset that is none":    {replaced(first, "00000000x9 00000 n \n"), "cross-reference entry 4"},
		"an offset one byte off":    {replaced(first, fmt.Sprintf("%010d 00000 n \n", strings.Index(good, "4 0 obj")+1)), "not framed"},
		"an object without its end": {replaced("A 1>>\nendobj\n", "A 1>>\nendobk\n"), "object 4 is not framed"},
		"an object without a start": {replaced("4 0 obj\n", "4 0 obk\n"), "object 4 is not framed"},
		"no kids":                   {replaced("/Kids[4 0 R 5 0 R]", "/Kids[4 0 X 5 0 R]"), "page tree"},
	} {
		_, err := Finish([]byte(c.file), Info{})
		if !errors.Is(err, ErrLayout) || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%s: error %v, want ErrLayout with %q", name, err, c.words)
		}
	}
	// Catalogue, information and page tree must be the last three, in that order.
	bodies := map[int]string{1: "<<>>", 2: "<<>>", 3: "<</Kids[4 0 R]>>", 4: "<<>>"}
	for _, order := range [][]int{{1, 4, 2, 3}, {4, 2, 1, 3}, {4, 1, 3, 2}, {1, 2, 3, 4}} {
		if _, err := Finish([]byte(raw(order, bodies)), Info{}); !errors.Is(err, ErrLayout) || !strings.Contains(err.Error(), "stands where") {
			t.Errorf("objects in the order %v: error %v, want ErrLayout", order, err)
		}
	}
	// An object may be empty, but its end is not its start's.
	bodies[4] = ""
	if objects, _, err := split([]byte(raw([]int{4, 1, 2, 3}, bodies))); err != nil || len(objects[0].body) != 0 {
		t.Errorf("an empty object: %v", err)
	}
	// One byte more in front of it and one fewer inside, so that all others stay in place.
	shared := raw([]int{4, 1, 2, 3}, bodies)
	at := strings.Index(shared, "4 0 obj")
	shared = shared[:at-1] + "%\n" + strings.Replace(shared[at:], "4 0 obj\n\nendobj", "4 0 obj\nendobj", 1)
	shared = strings.Replace(shared, fmt.Sprintf("%010d", at), fmt.Sprintf("%010d", at+1), 1)
	if _, _, err := split([]byte(shared)); !errors.Is(err, ErrLayout) || !strings.Contains(err.Error(), "object 4 is not framed") {
		t.Errorf("an object whose start and end share a line: error %v, want ErrLayout", err)
	}
	// The fewest objects that a file can have.
	objects, header, err := split([]byte(raw([]int{1, 2, 3}, bodies)))
	if err != nil || string(header) != rawHeader {
		t.Fatalf("three objects: header %q, error %v", header, err)
	}
	var got []string
	for _, o := range objects {
		got = append(got, fmt.Sprint(o.number, string(o.body)))
	}
	if want := []string{"1<<>>", "2<<>>", "3<</Kids[4 0 R]>>"}; !slices.Equal(got, want) {
		t.Errorf("objects %q, want %q", got, want)
	}
}
