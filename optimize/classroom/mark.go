package classroom

import (
	"context"

	"springwright/design/course"
	"springwright/design/spring"
	"springwright/optimize/asbent"
)

// springsMarked is how many springs tell a chance to 5 in 100, one standard deviation: a class is marked in a
// minute or two (choice).
const springsMarked = 96

// Mark marks a student's spring by what was measured of it. The error is that of ctx.
func Mark(ctx context.Context, s course.Student, source string, measured spring.Measured, bands course.Bands, workers int) (course.Mark, error) {
	m := course.Measure(s, source, measured.Steps)
	report, err := asbent.Read(ctx, asbent.Job{Case: s.Case, Spring: s.Spring, Measured: measured, Springs: springsMarked, BendsAlone: true, Seed: 1, Workers: workers})
	if ctx.Err() != nil {
		return m, ctx.Err()
	}
	if m.NotReckoned = err; err == nil {
		m.Report = &report
		m.NotReckoned = report.AsBent.NoRest
	}
	return m.Graded(bands), nil
}
