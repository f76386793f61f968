package export

import (
	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/sheet"
	"springwright/export/words"
)

// twin is the job of the mirrored spring: what its template shows. Loads and checks stay
// those of the spring itself.
func (j Job) twin() Job {
	j.Spring = j.Spring.Mirrored()
	j.Case.Teeth = j.Case.Teeth.Mirrored()
	j.Case.Code = j.twinCode()
	mirrored := func(poses []beam.Pose) []beam.Pose {
		out := make([]beam.Pose, len(poses))
		for i, p := range poses {
			out[i] = spring.MirroredPose(p)
		}
		return out
	}
	if j.Evaluation.Gauge.Axis == tooth.ForceY {
		j.Evaluation.Gauge.TravelMM = -j.Evaluation.Gauge.TravelMM
	}
	j.Evaluation.Passive, j.Evaluation.Seated = mirrored(j.Evaluation.Passive), mirrored(j.Evaluation.Seated)
	return j
}

// twinCode is the code that the twin goes by, so that the two springs of one case are not
// taken for each other: that of the case and the twin's own tooth. j is the twin's job.
func (j Job) twinCode() string {
	if j.Case.Code == "" {
		return ""
	}
	return words.NewBook(j.Language).Say("%s twin %d", j.Case.Code, int(j.Case.Teeth.Active))
}

// twinTitle stands above the twin's title, whose side the case's own title may contradict.
const twinTitle = "Twin for the other side"

// twinPage is the template of the twin, on a page of its own.
type twinPage struct{ *subject }

func (p twinPage) draw(f *flow) error {
	top := f.top
	defer func() { f.top = top }()
	twin := subjectOf(p.job.twin(), p.speech)
	twin.told = p.told      // what is said of the one is not said again of the other
	twin.told.anchor = true // which speaks of the teeth of the first spring
	f.top.band = twin.unmetBand(f)
	twin.job.Case.Title = f.say(twinTitle)
	f.top.head = twin.headText()
	f.newPage("Twin")
	text := f.say("Bend steps: marks, feeds and angles are those of the first spring; left and right change places, and twists turn the other way.")
	switch {
	case twin.planar():
		text += " " + f.say("This spring is flat: turned over it is its own twin.")
	case twin.bends.AnchorLeft:
		text += " " + f.say("By hand: as for the first spring, but with the part from the anchor in your left hand; where the line faces stays the same, and so does which way its top goes.")
	default:
		text += " " + f.say("By hand: as for the first spring, but with the part from the anchor in your right hand; where the line faces stays the same, and so does which way its top goes.")
	}
	style := sheet.Style{SizePt: sheet.BodyPt}
	reservedMM := f.doc.HeightOf(text, f.area.Width(), style)
	if err := (templatePage{twin, reservedMM}).blocks(f); err != nil {
		return err
	}
	f.paragraph(text, style, gapMM)
	return nil
}
