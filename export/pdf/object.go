package pdf

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"unicode/utf16"
)

// object is one numbered object of a file, body without "obj" and "endobj".
type object struct {
	number int
	offset int
	body   []byte
}

// split takes a file apart: its objects in file order, and what stands before the first.
func split(raw []byte) ([]object, []byte, error) {
	if !bytes.HasPrefix(raw, []byte("%PDF-")) {
		return nil, nil, fmt.Errorf("%w: no %%PDF- at the start", ErrLayout)
	}
	tail := regexp.MustCompile(`\nstartxref\n(\d+)\n%%EOF\n$`).FindSubmatch(raw)
	if tail == nil {
		return nil, nil, fmt.Errorf("%w: no startxref at the end", ErrLayout)
	}
	start, err := strconv.Atoi(string(tail[1]))
	if err != nil || start >= len(raw) {
		return nil, nil, fmt.Errorf("%w: cross-reference table at %s of %d bytes", ErrLayout, tail[1], len(raw))
	}
	table := raw[start:]
	var count int
	if n, err := fmt.Sscanf(string(table[:min(len(table), 40)]), "xref\n0 %d\n", &count); n != 1 || err != nil {
		return nil, nil, fmt.Errorf("%w: no single-section cross-reference table at %d", ErrLayout, start)
	}
	const entryLength = 20
	head := len(fmt.Sprintf("xref\n0 %d\n", count))
	if count < 4 || len(table) < head+count*entryLength {
		return nil, nil, fmt.Errorf("%w: cross-reference table of %d entries", ErrLayout, count)
	}
	objects := make([]object, 0, count-1)
	for i := 1; i < count; i++ {
		entry := table[head+i*entryLength:][:entryLength]
		offset, err := strconv.Atoi(string(entry[:10]))
		if err != nil || offset >= start || string(entry[10:]) != " 00000 n \n" {
			return nil, nil, fmt.Errorf("%w: cross-reference entry %d is %q", ErrLayout, i, entry)
		}
		objects = append(objects, object{number: i, offset: offset})
	}
	slices.SortFunc(objects, func(a, b object) int { return a.offset - b.offset })
	for i, want := range []int{catalogueObject, infoObject, pageTreeObject} {
		if got := objects[len(objects)-3+i].number; got != want {
			return nil, nil, fmt.Errorf("%w: object %d stands where %d is expected", ErrLayout, got, want)
		}
	}
	for i := range objects {
		o := &objects[i]
		end := start
		if i+1 < len(objects) {
			end = objects[i+1].offset
		}
		prefix, suffix := fmt.Appendf(nil, "%d 0 obj\n", o.number), []byte("\nendobj\n")
		body := raw[o.offset:end]
		if !bytes.HasPrefix(body, prefix) || !bytes.HasSuffix(body, suffix) || len(body) < len(prefix)+len(suffix) {
			return nil, nil, fmt.Errorf("%w: object %d is not framed by obj and endobj", ErrLayout, o.number)
		}
		o.body = body[len(prefix) : len(body)-len(suffix)]
	}
	return objects, raw[:objects[0].offset], nil
}

// stream returns the dictionary and the data of a stream object; ok is false for others.
func stream(body []byte) (dictionary, data []byte, ok bool) {
	dictionary, rest, found := bytes.Cut(body, []byte(">>stream\n"))
	if !found {
		return nil, nil, false
	}
	data, found = bytes.CutSuffix(rest, []byte("\nendstream\n"))
	return dictionary, data, found
}

// fontPrograms returns the numbers of the objects that hold embedded fonts.
func fontPrograms(objects []object) ([]int, error) {
	reference := regexp.MustCompile(`/FontFile(\d?) (\d+) 0 R`)
	var numbers []int
	for _, o := range objects {
		if _, _, ok := stream(o.body); ok {
			continue
		}
		for _, m := range reference.FindAllSubmatch(o.body, -1) {
			if string(m[1]) != "2" {
				return nil, fmt.Errorf("%w: object %d embeds a font that is not TrueType", ErrLayout, o.number)
			}
			number, err := strconv.Atoi(string(m[2]))
			if err != nil {
				return nil, fmt.Errorf("%w: font reference %s", ErrLayout, m[0])
			}
			numbers = append(numbers, number)
		}
	}
	return numbers, nil
}

// kids returns the numbers of the page objects, first page first.
func kids(pageTree []byte) ([]int, error) {
	list := regexp.MustCompile(`/Kids\[((?:\d+ 0 R ?)+)\]`).FindSubmatch(pageTree)
	if list == nil {
		return nil, fmt.Errorf("%w: page tree %q", ErrLayout, pageTree)
	}
	var pages []int
	for _, m := range regexp.MustCompile(`(\d+) 0 R`).FindAllSubmatch(list[1], -1) {
		number, err := strconv.Atoi(string(m[1]))
		if err != nil {
			return nil, fmt.Errorf("%w: page reference %s", ErrLayout, m[0])
		}
		pages = append(pages, number)
	}
	return pages, nil
}

// text writes a text string as hexadecimal UTF-16 with byte-order mark: nothing in it
// needs escaping.
func text(s string) []byte {
	b := []byte("<FEFF")
	for _, unit := range utf16.Encode([]rune(s)) {
		b = fmt.Appendf(b, "%04X", unit)
	}
	return append(b, '>')
}
