package wire

import "math"

// tangentPoints are where, as a share of the half face, tangents touch the shear profile.
// The profile falls steeply near the end of the face, so they crowd there.
var tangentPoints = [...]float64{0, 0.25, 0.45, 0.62, 0.76, 0.87, 0.95, 0.99}

// arcPieces is how many pieces the arc of a rounded edge is cut into.
const arcPieces = 6

// profilePoint is a point on a face and the shear there, for unit twist and shear modulus.
type profilePoint struct {
	alongMM, shearMM float64
}

// faceShear returns the corners of a polygon that lies on or above the shear stress along
// half a face, from its middle to endMM, in a rectangle with the face's length and across
// it the other side.
//
// The profile is concave, so its tangents lie above it. Between two corners of the polygon
// bending stress and shear are then linear, equivalent stress is convex, and its maximum
// over the face is at a corner: checking the corners misses nothing. With rounded edges
// the shear on what is left of the face is below that of the sharp rectangle around it
// (maximum principle for Prandtl's stress function).
func faceShear(lengthMM, acrossMM, endMM float64) [len(tangentPoints) + 1]profilePoint {
	var corners [len(tangentPoints) + 1]profilePoint
	var touch, shear, slope float64
	for i, share := range tangentPoints {
		nextTouch := share * endMM
		nextShear, nextSlope := sharpFaceShear(lengthMM, acrossMM, nextTouch)
		if i == 0 {
			corners[0] = profilePoint{0, nextShear}
		} else {
			// Where the tangents meet; a face too short to bend them apart keeps the higher end.
			corners[i] = profilePoint{nextTouch, math.Max(shear, nextShear)}
			if fall := slope - nextSlope; fall > 0 {
				meet := touch + (nextShear-shear+nextSlope*(touch-nextTouch))/fall
				meet = math.Max(touch, math.Min(nextTouch, meet))
				corners[i] = profilePoint{meet, shear + slope*(meet-touch)}
			}
		}
		touch, shear, slope = nextTouch, nextShear, nextSlope
	}
	corners[len(corners)-1] = profilePoint{endMM, math.Max(0, shear+slope*(endMM-touch))}
	return corners
}

// sharpFaceShear is the shear stress at a distance from the middle of a face of a
// rectangle with sharp edges, and its slope along the face, for unit twist and shear
// modulus:
//
//	τ = across·(1 − 8/π² Σ cosh(nπx/across) / (n² cosh(nπ length/2across))), n odd
//
// (Timoshenko and Goodier, Theory of Elasticity, 1970, article 109). A sum that stops early
// errs towards more shear.
func sharpFaceShear(lengthMM, acrossMM, xMM float64) (shearMM, slope float64) {
	const (
		longest = 2000  // terms; reached only beside the end of the short face of a flat ribbon
		small   = 1e-13 // of a term
	)
	u, v := math.Pi*xMM/acrossMM, math.Pi*lengthMM/(2*acrossMM)
	var sum, rise float64
	for n := 1.0; n < 2*longest; n += 2 {
		// cosh and sinh over cosh, without overflow.
		decay := math.Exp(n*(u-v)) / (1 + math.Exp(-2*n*v))
		if decay < small {
			break
		}
		back := math.Exp(-2 * n * u)
		sum += decay * (1 + back) / (n * n)
		rise += decay * (1 - back) / n
	}
	return acrossMM * (1 - 8/(math.Pi*math.Pi)*sum), -8 / math.Pi * rise
}

// arcPoint is a corner of a polygon around the arc of a rounded edge, y + iz, and the shear
// to reckon with there.
type arcPoint struct {
	at      complex128
	shearMM float64
}

// arcShear surrounds the arc of a rounded edge with a polygon that touches it between its
// pieces. On a piece, shear is taken as the larger of its ends, to which it has been found
// to be monotone, and bending stress is largest at a corner of the triangle around it.
func (o outline) arcShear(field torsionField) [2*arcPieces + 1]arcPoint {
	const step = math.Pi / 2 / arcPieces
	var polygon [2*arcPieces + 1]arcPoint
	place := func(i int, distance, angle float64) (normal complex128) {
		sin, cos := math.Sincos(angle)
		normal = complex(cos, sin)
		polygon[i].at = o.arcCentre() + complex(distance, 0)*normal
		return normal
	}
	var ends [arcPieces + 1]float64
	for i := range ends {
		normal := place(2*i, o.radiusMM, float64(i)*step)
		ends[i] = math.Max(0, field.edgeShearMM(polygon[2*i].at, normal))
	}
	for i := range arcPieces {
		place(2*i+1, o.radiusMM/math.Cos(step/2), (float64(i)+0.5)*step)
		piece := math.Max(ends[i], ends[i+1])
		for j := 2 * i; j <= 2*i+2; j++ {
			polygon[j].shearMM = math.Max(polygon[j].shearMM, piece)
		}
	}
	return polygon
}
