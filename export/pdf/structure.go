package pdf

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
)

// Role is what a piece of a page is to somebody who has it read aloud.
type Role int

// The roles, named as ISO 32000-1, 14.8.4 names the standard structure types.
const (
	Paragraph Role = iota
	Title          // of a page
	Heading        // of a part of a page
	Figure
	Table
	Row
	HeadCell // heads a column
	Cell
)

// tag is the role's standard structure type, with its attributes.
func (r Role) tag() string {
	return [...]string{"/P", "/H1", "/H2", "/Figure", "/Table", "/TR", "/TH/A<</O/Table/Scope/Column>>", "/TD"}[r]
}

// Element is a piece of a page.
type Element struct {
	Role   Role
	Parent int    // index of the element that it is a part of; -1: the page itself
	Alt    string // of a figure: what it shows
	Reads  string // what the drawn pieces read in one, where they are lines of one text; may be empty
	Leads  bool   // read before its neighbours that do not, though drawn later
}

// Ornament is the element of what is drawn for the eye alone: rules, frames, leaders.
const Ornament = -1

// Structure tells what a page's drawings are. Parents stand before their parts, parts in the
// order of reading.
type Structure struct {
	Elements []Element
	Drawn    []int // for each thing drawn on the page, in order, its element or Ornament
}

// contentOf is the number of the object that holds a page's drawing.
func contentOf(page []byte) (int, error) {
	const key = "/Contents "
	at := bytes.Index(page, []byte(key))
	var number int
	if at < 0 {
		return 0, fmt.Errorf("%w: a page without contents", ErrLayout)
	}
	if _, err := fmt.Sscanf(string(page[at+len(key):]), "%d 0 R", &number); err != nil {
		return 0, fmt.Errorf("%w: contents of a page: %w", ErrLayout, err)
	}
	return number, nil
}

// structureTree returns the objects of the structure tree, numbered from first: its root, the
// document, then each page with its elements. pages are the numbers of the page objects, marks
// the element of each marked piece of each page.
func structureTree(structures []Structure, marks [][]int, pages []int, first int) [][]byte {
	const root, document = 0, 1
	objects := make([][]byte, 2)
	var pageElements, parentTree []byte
	for i, s := range structures {
		page := first + len(objects)
		pageElements = fmt.Appendf(pageElements, "%d 0 R ", page)
		number := func(element int) int { return page + 1 + element } // Ornament is never asked for; -1 is the page
		kids := make([][]byte, len(s.Elements)+1)                     // one further than the element: of the page
		add := func(parent int, kid []byte) {
			kids[parent+1] = append(append(kids[parent+1], kid...), ' ')
		}
		for _, leads := range [...]bool{true, false} {
			for e, element := range s.Elements {
				if element.Leads == leads {
					add(element.Parent, fmt.Appendf(nil, "%d 0 R", number(e)))
				}
			}
		}
		parentTree = fmt.Appendf(parentTree, "%d[", i)
		for mark, e := range marks[i] {
			add(e, fmt.Appendf(nil, "%d", mark))
			parentTree = fmt.Appendf(parentTree, "%d 0 R ", number(e))
		}
		parentTree = append(bytes.TrimRight(parentTree, " "), ']')
		objects = append(objects, fmt.Appendf(nil, "<</S/Sect/P %d 0 R/K[%s]>>", first+document, bytes.TrimRight(kids[0], " ")))
		for e, element := range s.Elements {
			b := fmt.Appendf(nil, "<</S%s/P %d 0 R/Pg %d 0 R/K[%s]", element.Role.tag(), number(element.Parent), pages[i], bytes.TrimRight(kids[e+1], " "))
			if element.Alt != "" {
				b = append(append(b, "/Alt"...), text(element.Alt)...)
			}
			if element.Reads != "" {
				b = append(append(b, "/ActualText"...), text(element.Reads)...)
			}
			objects = append(objects, append(b, ">>"...))
		}
	}
	objects[document] = fmt.Appendf(nil, "<</S/Document/P %d 0 R/K[%s]>>", first+root, bytes.TrimRight(pageElements, " "))
	objects[root] = fmt.Appendf(nil, "<</Type/StructTreeRoot/K %d 0 R/ParentTree<</Nums[%s]>>/ParentTreeNextKey %d>>", first+document, parentTree, len(structures))
	return objects
}

// mark brackets the pieces of a page's drawing with their elements (ISO 32000-1, 14.6), and
// returns the element of each bracket. Pieces that follow each other and belong together share
// one.
func mark(content []byte, s Structure) (marked []byte, elements []int, err error) {
	pieces, rest := drawings(content)
	if len(pieces) != len(s.Drawn) {
		return nil, nil, fmt.Errorf("%w: %d drawings on a page where %d were drawn", ErrLayout, len(pieces), len(s.Drawn))
	}
	var out bytes.Buffer
	for i, piece := range pieces {
		element := s.Drawn[i]
		if i == 0 || s.Drawn[i-1] != element {
			if element == Ornament {
				out.WriteString("/Artifact BMC ")
			} else {
				fmt.Fprintf(&out, "%s<</MCID %d>>BDC ", roleName(s.Elements[element].Role), len(elements))
				elements = append(elements, element)
			}
		}
		out.Write(piece)
		out.WriteByte(' ')
		if i == len(pieces)-1 || s.Drawn[i+1] != element {
			out.WriteString("EMC ")
		}
	}
	out.Write(rest)
	return out.Bytes(), elements, nil
}

// roleName is the structure type without its attributes.
func roleName(r Role) string {
	name, _, _ := strings.Cut(r.tag()[1:], "/")
	return "/" + name
}

// drawings takes a page's content apart after each operator that paints: a path's, or the end
// of a text. What sets the pen stands with what it draws.
func drawings(content []byte) (pieces [][]byte, rest []byte) {
	painting := []string{"S", "s", "f", "f*", "B", "b", "B*", "b*", "ET"}
	start := 0
	for at := 0; at < len(content); {
		switch c := content[at]; {
		case c == '(':
			at = afterString(content, at)
		case bytes.IndexByte([]byte(" \n\r\t[]<>"), c) >= 0:
			at++
		default:
			end := at + 1
			for end < len(content) && bytes.IndexByte([]byte(" \n\r\t[]<>("), content[end]) < 0 {
				end++
			}
			if slices.Contains(painting, string(content[at:end])) {
				pieces = append(pieces, bytes.TrimSpace(content[start:end]))
				start = end
			}
			at = end
		}
	}
	return pieces, content[start:]
}

// afterString returns where the literal string that starts at at has ended.
func afterString(content []byte, at int) int {
	depth := 0
	for ; at < len(content); at++ {
		switch content[at] {
		case '\\':
			at++
		case '(':
			depth++
		case ')':
			if depth--; depth == 0 {
				return at + 1
			}
		}
	}
	return at
}
