package export

import (
	"math"

	"springwright/design/photo"
	"springwright/design/spring"
	"springwright/export/bend"
	"springwright/export/plane"
)

// subject is a spring on its way to paper: what every page about it goes by.
type subject struct {
	speech
	job   Job
	bends bend.Table
	view  bend.View
	scale plane.Point // what true sizes are drawn larger by, across and up the page
	told  *told
	owner photo.Owner // of a course's card; zero: nobody's
}

// told is what stands on a page already and is not said again.
type told struct{ warnings, trial, anchor bool }

// subjectOf is the spring of a job that has no faults.
func subjectOf(job Job, words speech) *subject {
	return &subject{
		speech: words, job: job,
		bends: bend.TableOf(job.Spring, job.Case.Teeth), view: bend.ViewOf(job.Case.Teeth),
		scale: job.Printer.scale(), told: &told{},
	}
}

// begin checks a job and returns its spring and a document without pages.
func begin(job Job) (*subject, *flow, error) {
	if err := job.check(); err != nil {
		return nil, nil, err
	}
	f, err := job.Frame.flow()
	if err != nil {
		return nil, nil, err
	}
	s := subjectOf(job, f.speech)
	f.top.head = s.headText()
	if b := s.unmetBand(f); b != nil {
		f.mark(*b)
	}
	return s, f, nil
}

func (s *subject) headText() headText {
	return headOf(s.words, s.job.Case, s.say("Wire: %s. Cut length %s mm.", wireText(s.words, s.job.Spring.Wire), s.words.Number(s.bends.CutMM(), 1)))
}

// planar tells whether all bends lie in the plane seen from the cheek.
func (s *subject) planar() bool {
	for _, r := range s.bends.Rows {
		if r.Twist || !r.InView {
			return false
		}
	}
	return true
}

// spatial tells whether the wire leaves the plane seen from the cheek so far that it is to
// be seen from the biting side as well.
func (s *subject) spatial() bool {
	const seenMM = 0.05 // less than a pencil's line
	if !s.planar() {
		return true
	}
	for _, p := range s.job.Evaluation.Passive {
		if math.Abs(p.At.Y) > seenMM {
			return true
		}
	}
	return false
}

// steps is the path whose steps the scene and the bend table count.
func (s *subject) steps() spring.Steps { return s.job.Spring.Path.Steps() }
