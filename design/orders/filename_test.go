package orders

import (
	"regexp"
	"strings"
	"testing"
)

// safeName is what every file system takes, and what a case code is.
var safeName = regexp.MustCompile(`^[A-Za-z0-9]([A-Za-z0-9._-]{0,30}[A-Za-z0-9])?$`)

func TestFileNamesAreSafe(t *testing.T) {
	t.Parallel()
	codes := []string{
		"A-17", "a-17", "CON", "con.txt", "nul", "COM1", "lpt9.x", "aux ", "..", ".", "../../etc/passwd", `C:\Windows`, "/", "a/b", "a\\b", "a:b", "a*b?", "trailing.", "trailing ", "-x", "_", "~", ".hidden",
		strings.Repeat("x", 64), strings.Repeat("x", 63) + "y", strings.Repeat("ä", 64), "Fürth", "Fu\u0308rth", "Furth", "עברית", "مرحبا", "日本語", "日本", "😀", "😁", "👩‍⚕️", "ﬁ", "fi", "①", "1", "Å", "Å", "ß", "ss",
		"cover", "cover.pdf", "labels", "summary.csv", "batch-files.txt", "cut-list", "x-twin", "x", "X-TWIN", "İ", "ı", "i", "I",
	}
	var list []Order
	for _, c := range codes {
		list = append(list, Order{Code: c}, Order{Code: c, Twin: true})
	}
	nameAll(list)
	seen := map[string]Order{}
	for _, o := range list {
		if !safeName.MatchString(o.Name) || len(o.Name) > 32 || kept(o.Name) {
			t.Errorf("%q is called %q", o.Code, o.Name)
		}
		lower := strings.ToLower(o.Name)
		if other, taken := seen[lower]; taken && other.Code != o.Code {
			t.Errorf("%q and %q are both called %q", other.Code, o.Code, o.Name)
		}
		seen[lower] = o
	}
	for code, want := range map[string]string{"B-17": "B-17", "Fürth": "Furth-", "CON": "order-CON-", "😀": "order-"} {
		list := []Order{{Code: code}}
		if nameAll(list); !strings.HasPrefix(list[0].Name, want) {
			t.Errorf("%q is called %q, want %q", code, list[0].Name, want)
		}
	}
}

// A name hangs on the codes alone, not on their order.
func TestFileNamesDoNotHangOnTheOrder(t *testing.T) {
	t.Parallel()
	one, two := []Order{{Code: "a"}, {Code: "A"}, {Code: "b"}}, []Order{{Code: "b"}, {Code: "A"}, {Code: "a"}}
	nameAll(one)
	nameAll(two)
	if one[0].Name != two[2].Name || one[1].Name != two[1].Name || one[2].Name != "b" || strings.EqualFold(one[0].Name, one[1].Name) {
		t.Errorf("%+v\n%+v", one, two)
	}
}
