package export

import (
	"errors"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"springwright/export/words"
)

// The terminal and the page of bend steps must tell one thing, in every language.
func TestBendListSaysWhatThePageSays(t *testing.T) {
	point := regexp.MustCompile(`\d\.\d`)
	for name, job := range map[string]Job{"flat": testJob(), "spatial": spatialJob()} {
		for l := words.English; l.Valid(); l++ {
			job.Language, job.Pages = l, []Page{StepsPage}
			list, err := BendList(job)
			if err != nil {
				t.Fatalf("%s, %v: %v", name, l, err)
			}
			for line := range strings.SplitSeq(list, "\n") {
				if n := utf8.RuneCountInString(line); n > listColumns {
					t.Errorf("%s, %v: %d characters in %q", name, l, n, line)
				}
			}
			if l.DecimalComma() && point.MatchString(list) {
				t.Errorf("%s, %v: a decimal point in\n%s", name, l, list)
			}
			of, _, err := begin(job)
			if err != nil {
				t.Fatal(err)
			}
			// Commas are equally wide, so that they do not decide where a line ends.
			said := strings.Join(strings.Fields(strings.ReplaceAll(list, ",", ".")), " ")
			want := [][]string{of.headText().lines, {lengthsText(of.words, of.bends), bendTexts{of}.waysText(), bendTexts{of}.orderText()}, bendTexts{of}.bendCautions()}
			if !of.planar() {
				want = append(want, []string{bendTexts{of}.holdText()})
				for _, r := range of.bends.Rows {
					want = append(want, []string{bendTexts{of}.stepText(r) + " " + bendTexts{of}.handText(r)})
				}
			}
			doc, err := compose(job)
			if err != nil {
				t.Fatal(err)
			}
			page := ""
			for _, p := range doc.Pages {
				page += strings.Join(p.Texts(), " ") + " "
			}
			if hands := !of.planar(); hands {
				for _, r := range of.bends.Rows {
					if text := strings.ReplaceAll((bendTexts{of}).handText(r), ".", ","); !strings.Contains(strings.ReplaceAll(page, ".", ","), text) {
						t.Errorf("%s, %v: the page lacks %q:\n%s", name, l, text, page)
					}
				}
			}
			rows := bendTexts{of}.bendTable().Rows
			for _, row := range rows {
				note := len(row) - 1
				if cells := strings.Join(row[:note], " "); strings.Contains(row[note], ",") || row[note] == "" {
					want = append(want, []string{cells}) // its note may go on in the next line
				} else {
					want = append(want, []string{cells, row[note]})
				}
			}
			if of.spatial() {
				for _, row := range (freeEndCheck{of}).freeEndTable().Rows {
					want = append(want, []string{strings.Join(row, " ")})
				}
			} else {
				want = append(want, []string{freeEndCheck{of}.freeEndText()})
			}
			for _, texts := range want {
				for _, text := range texts {
					text = strings.Join(strings.Fields(strings.ReplaceAll(text, ",", ".")), " ")
					if !strings.Contains(said, text) {
						t.Errorf("%s, %v: the list lacks %q:\n%s", name, l, text, list)
					}
				}
			}
		}
	}
}

func TestBendListsOfASheet(t *testing.T) {
	s := springSheet(Frame{Language: words.Spanish})
	s.Twins = true
	list, err := s.BendLists()
	if err != nil {
		t.Fatal(err)
	}
	if got, want := strings.Count(list, "Posición neutra"), 2*len(s.Springs); got != want {
		t.Errorf("%d lists, want %d: one for each spring and its twin", got, want)
	}
	for _, spring := range s.Springs {
		if !strings.Contains(list, "\n"+spring.Code+": ") && !strings.HasPrefix(list, spring.Code+": ") {
			t.Errorf("no list is headed %s:\n%s", spring.Code, list)
		}
	}
	if _, err := (SpringSheet{}).BendLists(); !errors.Is(err, ErrJob) {
		t.Errorf("no springs: error %v, want ErrJob", err)
	}
	if _, err := BendList(Job{}); !errors.Is(err, ErrJob) {
		t.Errorf("an empty job: error %v, want ErrJob", err)
	}
}
