package notice

// Shape tells how far a spring is from the shape that gives its kind its name, and what that is for.
type Shape struct {
	Family string `json:"family"`
	// UnevenMM is the largest difference of lengths that are alike in that shape.
	UnevenMM float64 `json:"uneven_mm"`
	// LargestBendRad is the largest pre-activation bend: how far an angle is from a plain corner or a
	// straight leg.
	LargestBendRad float64 `json:"largest_bend_rad"`
	// Nearer is what another spring would come to that is clearly nearer to that shape and meets the
	// target, too; nil where none was found.
	Nearer *NearerShape `json:"nearer,omitempty"`
}

// NearerShape is the shares of hand-bent springs that meet the target, by the model that the search
// uses: of a spring nearer to its kind's own shape, and of the one that was taken.
type NearerShape struct {
	Share      float64 `json:"share"`
	TakenShare float64 `json:"taken_share"`
}

// Kind is ShapeKind.
func (Shape) Kind() Kind { return ShapeKind }

// Where a spring is told to have its kind's own shape: lengths that are alike within a step of a hand's
// grid, bends that the eye takes for plain corners (choices).
const (
	OwnShapeMM  = 0.5
	OwnShapeRad = 0.175 // 10 degrees
)

// Own tells whether the spring has its kind's own shape, as near as a hand would tell.
func (s Shape) Own() bool {
	const rounding = 1e-3
	return s.UnevenMM <= OwnShapeMM+rounding && s.LargestBendRad <= OwnShapeRad+rounding
}
