package pdf

import (
	"bytes"
	"compress/zlib"
	"encoding/xml"
	"fmt"
	"io"
)

// tag brackets the drawings of all pages in their objects, and returns the element of each
// bracket, page by page.
func tag(objects []object, pages []int, structures []Structure) ([][]int, error) {
	if len(structures) == 0 {
		return nil, nil
	}
	if len(structures) != len(pages) {
		return nil, fmt.Errorf("%d structures for %d pages", len(structures), len(pages))
	}
	byNumber := map[int]*object{}
	for i := range objects {
		byNumber[objects[i].number] = &objects[i]
	}
	marks := make([][]int, len(pages))
	for i, number := range pages {
		page := byNumber[number]
		contents, err := contentOf(page.body)
		if err != nil {
			return nil, err
		}
		drawing, found := byNumber[contents]
		if !found {
			return nil, fmt.Errorf("%w: page %d shows object %d, which is not there", ErrLayout, i+1, contents)
		}
		content, err := inflated(drawing.body)
		if err != nil {
			return nil, fmt.Errorf("page %d: %w", i+1, err)
		}
		content, marks[i], err = mark(content, structures[i])
		if err != nil {
			return nil, fmt.Errorf("page %d: %w", i+1, err)
		}
		if drawing.body, err = deflated(content, ""); err != nil {
			return nil, err
		}
		// Tabs S: in the order of the structure.
		page.body = fmt.Appendf(nil, "%s/StructParents %d/Tabs/S>>", bytes.TrimSuffix(page.body, []byte(">>")), i)
	}
	return marks, nil
}

// inflated is the data of a stream that is deflated and has no other entries.
func inflated(body []byte) ([]byte, error) {
	dictionary, data, ok := stream(body)
	if !ok || string(dictionary) != fmt.Sprintf("<</Filter/FlateDecode/Length %d", len(data)) {
		return nil, fmt.Errorf("%w: not one deflated stream", ErrLayout)
	}
	inflate, err := zlib.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrLayout, err)
	}
	content, err := io.ReadAll(inflate)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrLayout, err)
	}
	return content, nil
}

// deflated is a stream object's body, with more entries of its dictionary.
func deflated(data []byte, entries string) ([]byte, error) {
	var b bytes.Buffer
	deflate := zlib.NewWriter(&b)
	if _, err := deflate.Write(data); err != nil {
		return nil, err
	}
	if err := deflate.Close(); err != nil {
		return nil, err
	}
	return fmt.Appendf(nil, "<</Filter/FlateDecode/Length %d%s>>stream\n%s\nendstream\n", b.Len(), entries, b.Bytes()), nil
}

// metadata is what the information says, as the XMP stream that newer readers look for
// (ISO 16684-1).
func metadata(info Info) []byte {
	escaped := func(s string) string {
		var b bytes.Buffer
		_ = xml.EscapeText(&b, []byte(s)) // a buffer takes all
		return b.String()
	}
	var b bytes.Buffer
	b.WriteString("<?xpacket begin=\"\uFEFF\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n" +
		`<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">` +
		`<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:xmp="http://ns.adobe.com/xap/1.0/">`)
	for _, entry := range [...]struct{ property, value string }{
		{"dc:title", info.Title}, {"dc:description", info.Subject},
	} {
		if entry.value != "" {
			fmt.Fprintf(&b, `<%[1]s><rdf:Alt><rdf:li xml:lang="x-default">%[2]s</rdf:li></rdf:Alt></%[1]s>`, entry.property, escaped(entry.value))
		}
	}
	if info.Lang != "" {
		fmt.Fprintf(&b, "<dc:language><rdf:Bag><rdf:li>%s</rdf:li></rdf:Bag></dc:language>", escaped(info.Lang))
	}
	if info.Producer != "" {
		fmt.Fprintf(&b, "<pdf:Producer>%s</pdf:Producer>", escaped(info.Producer))
	}
	if info.Date != "" {
		fmt.Fprintf(&b, "<xmp:CreateDate>%[1]sT00:00:00Z</xmp:CreateDate><xmp:ModifyDate>%[1]sT00:00:00Z</xmp:ModifyDate>", info.Date)
	}
	b.WriteString("</rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end=\"w\"?>")
	return fmt.Appendf(nil, "<</Type/Metadata/Subtype/XML/Length %d>>stream\n%s\nendstream\n", b.Len(), b.Bytes())
}
