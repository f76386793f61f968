package lsq

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// published is a problem with its own derivatives, that remembers where it was asked.
type published struct {
	name   string
	m      int
	start  []float64
	value  float64 // published least sum of squares
	values func(x, r []float64)
	bounds *Box // nil: ±1e7, which none of the published paths comes near
	most   int  // iterations; 0: 100
	asked  [][]float64
}

func (p *published) Size() (variables, residuals int) { return len(p.start), p.m }

// Residuals takes its Jacobian by central differences of its own values: these problems
// have third derivatives small enough for 1e-8 of accuracy.
func (p *published) Residuals(x, r []float64, jacobian *mat.Dense, enough float64) bool {
	p.asked = append(p.asked, append([]float64(nil), x...))
	p.values(x, r)
	if jacobian == nil {
		return true
	}
	y := append([]float64(nil), x...)
	up, down := make([]float64, p.m), make([]float64, p.m)
	for j := range x {
		h := 1e-6 * max(1e-3, math.Abs(x[j]))
		y[j] = x[j] + h
		p.values(y, up)
		y[j] = x[j] - h
		p.values(y, down)
		y[j] = x[j]
		for i := range up {
			jacobian.Set(i, j, (up[i]-down[i])/(2*h))
		}
	}
	return true
}

// solve minimises the problem and fails where it ever left its box.
func (p *published) solve(t *testing.T) (x []float64, squares float64) {
	t.Helper()
	b := p.box()
	width := make([]float64, len(p.start))
	for j := range width {
		// A fixed variable has no width of its own.
		width[j] = max(1, min(100, b.Upper[j]-b.Lower[j]))
	}
	x = append([]float64(nil), p.start...)
	iterations := p.most
	if iterations == 0 {
		iterations = 100
	}
	squares = 2 * newLevenberg(p, b, width).minimise(x, iterations)
	for _, at := range p.asked {
		for j := range at {
			if at[j] < b.Lower[j] || at[j] > b.Upper[j] {
				t.Fatalf("asked at %v, outside the box", at)
			}
		}
	}
	return x, squares
}

func (p *published) box() Box {
	if p.bounds != nil {
		return *p.bounds
	}
	var b Box
	for range p.start {
		b.Lower, b.Upper = append(b.Lower, -1e7), append(b.Upper, 1e7)
	}
	return b
}

func rosenbrock(x, r []float64) { r[0], r[1] = 10*(x[1]-x[0]*x[0]), 1-x[0] }

func beale(x, r []float64) {
	for i, y := range [...]float64{1.5, 2.25, 2.625} {
		r[i] = y - x[0]*(1-math.Pow(x[1], float64(i+1)))
	}
}

func wood(x, r []float64) {
	r[0], r[1] = 10*(x[1]-x[0]*x[0]), 1-x[0]
	r[2], r[3] = math.Sqrt(90)*(x[3]-x[2]*x[2]), 1-x[2]
	r[4], r[5] = math.Sqrt(10)*(x[1]+x[3]-2), (x[1]-x[3])/math.Sqrt(10)
}

func powellSingular(x, r []float64) {
	r[0], r[1] = x[0]+10*x[1], math.Sqrt(5)*(x[2]-x[3])
	r[2], r[3] = (x[1]-2*x[2])*(x[1]-2*x[2]), math.Sqrt(10)*(x[0]-x[3])*(x[0]-x[3])
}

// Problems, starting points and least sums of squares: J. J. Moré, B. S. Garbow,
// K. E. Hillstrom, ACM Trans. Math. Softw. 7 (1981) 17.
func publishedProblems() []*published {
	return []*published{
		{name: "Rosenbrock", m: 2, start: []float64{-1.2, 1}, values: rosenbrock},
		{name: "Beale", m: 3, start: []float64{1, 1}, values: beale},
		// From a tenth of this start, published too, exact steps end on the saddle at 7.877.
		{name: "Wood", m: 6, start: []float64{-30, -10, -30, -10}, values: wood},
		{name: "Powell singular", m: 4, start: []float64{3, -1, 0, 1}, values: powellSingular},
		{
			// From this start every descent method ends in the local minimum.
			name: "Freudenstein and Roth", m: 2, start: []float64{0.5, -2}, value: 48.9842,
			values: func(x, r []float64) {
				r[0] = -13 + x[0] + ((5-x[1])*x[1]-2)*x[1]
				r[1] = -29 + x[0] + ((x[1]+1)*x[1]-14)*x[1]
			},
		},
		{
			name: "Brown badly scaled", m: 3, start: []float64{1, 1},
			values: func(x, r []float64) { r[0], r[1], r[2] = x[0]-1e6, x[1]-2e-6, x[0]*x[1]-2 },
		},
		{
			name: "Jennrich and Sampson", m: 10, start: []float64{0.3, 0.4}, value: 124.362,
			values: func(x, r []float64) {
				for i := range r {
					k := float64(i + 1)
					r[i] = 2 + 2*k - math.Exp(k*x[0]) - math.Exp(k*x[1])
				}
			},
		},
		{
			name: "helical valley", m: 3, start: []float64{-1, 0, 0},
			values: func(x, r []float64) {
				turn := math.Atan(x[1]/x[0]) / (2 * math.Pi)
				if x[0] < 0 {
					turn += 0.5
				}
				r[0], r[1], r[2] = 10*(x[2]-10*turn), 10*(math.Hypot(x[0], x[1])-1), x[2]
			},
		},
		{
			name: "Bard", m: 15, start: []float64{1, 1, 1}, value: 8.21487e-3,
			values: func(x, r []float64) {
				y := [...]float64{0.14, 0.18, 0.22, 0.25, 0.29, 0.32, 0.35, 0.39, 0.37, 0.58, 0.73, 0.96, 1.34, 2.10, 4.39}
				for i := range r {
					u, v := float64(i+1), float64(15-i)
					r[i] = y[i] - x[0] - u/(v*x[1]+min(u, v)*x[2])
				}
			},
		},
		{
			name: "Kowalik and Osborne", m: 11, start: []float64{0.25, 0.39, 0.415, 0.39}, value: 3.07505e-4,
			values: func(x, r []float64) {
				y := [...]float64{0.1957, 0.1947, 0.1735, 0.1600, 0.0844, 0.0627, 0.0456, 0.0342, 0.0323, 0.0235, 0.0246}
				for i, u := range [...]float64{4, 2, 1, 0.5, 0.25, 0.167, 0.125, 0.1, 0.0833, 0.0714, 0.0625} {
					r[i] = y[i] - x[0]*(u*u+u*x[1])/(u*u+u*x[2]+x[3])
				}
			},
		},
		{
			// The residuals stay so large that a method without their second derivatives
			// is slow.
			name: "Brown and Dennis", m: 20, start: []float64{25, 5, -5, -1}, value: 85822.2, most: 4000,
			values: func(x, r []float64) {
				for i := range r {
					s := float64(i+1) / 5
					a, b := x[0]+s*x[1]-math.Exp(s), x[2]+x[3]*math.Sin(s)-math.Cos(s)
					r[i] = a*a + b*b
				}
			},
		},
	}
}

func TestLevenbergSolvesPublishedProblems(t *testing.T) {
	t.Parallel()
	for _, p := range publishedProblems() {
		t.Run(p.name, func(t *testing.T) {
			t.Parallel()
			x, squares := p.solve(t)
			// Six digits are published; the method itself stops at steps of a millionth
			// of the cost, which leaves a few of them where convergence is linear.
			tolerance := 2e-4*p.value + 1e-10
			if !(math.Abs(squares-p.value) <= tolerance) {
				t.Errorf("sum of squares %.8g after %d evaluations, published %.8g; at %.6g", squares, len(p.asked), p.value, x)
			}
		})
	}
}

// projectedGradient is how far a step down the gradient moves within the box: 0 exactly at
// a constrained minimum.
func (p *published) projectedGradient(x []float64) float64 {
	r, jacobian := make([]float64, p.m), mat.NewDense(p.m, len(x), nil)
	p.Residuals(x, r, jacobian, ToTheEnd)
	b := p.box()
	var worst float64
	for j := range x {
		g := mat.Dot(jacobian.ColView(j), mat.NewVecDense(p.m, r))
		worst = max(worst, math.Abs(b.Clip(j, x[j]-g)-x[j]))
	}
	return worst
}

func TestLevenbergStopsAtBoundsExactly(t *testing.T) {
	t.Parallel()
	// W. Hock, K. Schittkowski, Test Examples for Nonlinear Programming Codes (1981),
	// problem 2: x1 = 2a cos(⅓ arccos 1/b), a = √(598/1200), b = 400 a³.
	a := math.Sqrt(598.0 / 1200)
	inf := 50.0
	for _, p := range []*published{
		{
			name: "Hock and Schittkowski 2", m: 2, start: []float64{2, 4}, values: rosenbrock, value: 0.0504261879,
			bounds: &Box{[]float64{-inf, 1.5}, []float64{inf, inf}},
		},
		{
			name: "Rosenbrock left of its minimum", m: 2, start: []float64{-1.2, 1}, values: rosenbrock,
			value:  0.25, // along the valley x2 = x1² up to the bound x1 = 0.5
			bounds: &Box{[]float64{-inf, -inf}, []float64{0.5, inf}},
		},
		{
			name: "Rosenbrock in a corner", m: 2, start: []float64{-1.2, 1}, values: rosenbrock,
			value:  100*(0.1-0.25)*(0.1-0.25) + 0.25, // both bounds hold
			bounds: &Box{[]float64{0.5, -inf}, []float64{inf, 0.1}},
		},
		{
			name: "Beale, a bound across the way", m: 3, start: []float64{1, 1}, values: beale, value: math.NaN(),
			bounds: &Box{[]float64{-inf, 0.6}, []float64{inf, inf}},
		},
		{
			name: "Wood, two bounds", m: 6, start: []float64{-3, -1, -3, -1}, values: wood, value: math.NaN(),
			bounds: &Box{[]float64{-inf, -inf, -inf, -inf}, []float64{0.8, inf, inf, 0.7}},
		},
		{
			name: "Powell singular, off its minimum", m: 4, start: []float64{3, -1, 0, 1}, values: powellSingular, value: math.NaN(),
			bounds: &Box{[]float64{0.5, -inf, -inf, -inf}, []float64{inf, inf, inf, inf}},
		},
	} {
		t.Run(p.name, func(t *testing.T) {
			t.Parallel()
			x, squares := p.solve(t)
			if !math.IsNaN(p.value) && math.Abs(squares-p.value) > 1e-5*p.value {
				t.Errorf("sum of squares %.10g, want %.10g", squares, p.value)
			}
			// A relative decrease below 1e-6 in the cost leaves about its root in the gradient.
			if g := p.projectedGradient(x); g > 2e-3*(1+squares) {
				t.Errorf("projected gradient %.3g at %.6g", g, x)
			}
			bound := false
			for j := range x {
				bound = bound || x[j] == p.bounds.Lower[j] || x[j] == p.bounds.Upper[j]
			}
			if !bound {
				t.Errorf("%.12g lies on no bound", x)
			}
			if p.name == "Hock and Schittkowski 2" {
				want := 2 * a * math.Cos(math.Acos(1/(400*a*a*a))/3)
				if math.Abs(x[0]-want) > 1e-4 {
					t.Errorf("x1 = %.8g, want %.8g", x[0], want)
				}
			}
		})
	}
}

// A bounded linear problem is convex: its minimum is the best of the stationary points on
// all faces of the box that lies in the box.
func TestLevenbergOnBoundedLinearProblemsMatchesAllFaces(t *testing.T) {
	t.Parallel()
	source := rand.New(rand.NewPCG(7, 0))
	const n, m = 3, 5
	for trial := range 40 {
		matrix, right := mat.NewDense(m, n, nil), make([]float64, m)
		for i := range m {
			right[i] = 3 * source.NormFloat64()
			for j := range n {
				matrix.Set(i, j, source.NormFloat64())
			}
		}
		p := &published{
			m: m, start: make([]float64, n),
			values: func(x, r []float64) {
				for i := range r {
					r[i] = mat.Dot(matrix.RowView(i), mat.NewVecDense(n, x)) - right[i]
				}
			},
			bounds: &Box{[]float64{-1, -0.5, -1}, []float64{1, 0.5, 0.25}},
		}
		x, squares := p.solve(t)
		want := leastOverFaces(matrix, right, *p.bounds)
		if squares > want*(1+1e-5)+1e-12 || squares < want*(1-1e-9)-1e-12 {
			t.Errorf("trial %d: sum of squares %.10g at %.6g, best over all faces %.10g", trial, squares, x, want)
		}
	}
}

func leastOverFaces(matrix *mat.Dense, right []float64, b Box) float64 {
	m, n := matrix.Dims()
	best := math.Inf(1)
	for face := range int(math.Pow(3, float64(n))) { // of each variable: lower, upper, free
		x := make([]float64, n)
		var free []int
		for j, code := 0, face; j < n; j, code = j+1, code/3 {
			switch code % 3 {
			case 0:
				x[j] = b.Lower[j]
			case 1:
				x[j] = b.Upper[j]
			case 2:
				free = append(free, j)
			}
		}
		rest := mat.NewVecDense(m, nil)
		for i := range m {
			rest.SetVec(i, right[i]-mat.Dot(matrix.RowView(i), mat.NewVecDense(n, x)))
		}
		if len(free) > 0 {
			columns := mat.NewDense(m, len(free), nil)
			for k, j := range free {
				columns.SetCol(k, mat.Col(nil, j, matrix))
			}
			var solution, used mat.VecDense
			if solution.SolveVec(columns, rest) != nil {
				continue
			}
			inside := true
			for k, j := range free {
				inside = inside && solution.AtVec(k) >= b.Lower[j] && solution.AtVec(k) <= b.Upper[j]
			}
			if !inside {
				continue
			}
			used.MulVec(columns, &solution)
			rest.SubVec(rest, &used)
		}
		best = min(best, mat.Dot(rest, rest))
	}
	return best
}

func TestLevenbergKeepsFixedVariables(t *testing.T) {
	t.Parallel()
	for fixed := range 4 {
		t.Run(fmt.Sprint("x", fixed+1), func(t *testing.T) {
			t.Parallel()
			p := &published{m: 6, start: []float64{-3, -1, -3, -1}, values: wood}
			b := p.box()
			b.Lower[fixed], b.Upper[fixed] = 0.4, 0.4
			p.bounds = &b
			x, squares := p.solve(t)
			if x[fixed] != 0.4 {
				t.Errorf("moved to %v", x[fixed])
			}
			if g := p.projectedGradient(x); g > 2e-3*(1+squares) {
				t.Errorf("projected gradient %.3g at %.6g", g, x)
			}
		})
	}
	p := &published{m: 2, start: []float64{3, 3}, values: rosenbrock, bounds: &Box{[]float64{0.5, 2}, []float64{0.5, 2}}}
	if x, _ := p.solve(t); x[0] != 0.5 || x[1] != 2 {
		t.Errorf("with everything fixed it ends at %v, want the box", x)
	}
}

// holed has no residuals in a half plane that the way down leads through.
type holed struct{ published }

func (p *holed) Residuals(x, r []float64, jacobian *mat.Dense, enough float64) bool {
	return x[0] <= 0.8 && p.published.Residuals(x, r, jacobian, ToTheEnd)
}

func TestLevenbergStaysWhereResidualsExist(t *testing.T) {
	t.Parallel()
	wide := Box{[]float64{-10, -10}, []float64{10, 10}}
	p := &holed{published{m: 2, values: rosenbrock, start: []float64{-1.2, 1}}}
	x := []float64{-1.2, 1}
	cost := newLevenberg(p, wide, []float64{20, 20}).minimise(x, 200)
	if x[0] > 0.8 || x[0] < 0.5 || !(cost < 0.2) { // 24.2/2 at the start, 0.02 at the edge
		t.Errorf("ends at %v with cost %v", x, cost)
	}
	x = []float64{2, 2}
	if cost := newLevenberg(p, wide, []float64{20, 20}).minimise(x, 200); !math.IsInf(cost, 1) {
		t.Errorf("cost %v from a start without residuals, want +Inf", cost)
	}
}
