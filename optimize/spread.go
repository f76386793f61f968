package optimize

import "slices"

// spreadModel is how the loads of a bender's springs spread about designs near one: the
// change of every load by every error, to first order in the design's own numbers. It is
// not safe for use by several goroutines.
type spreadModel struct {
	at     []float64
	here   linear
	bends  [][][]float64 // change of here.changes by a unit of each number; nil where it is held
	moves  [][]float64   // the same of here.values
	sample [][]float64
	room   [][]float64
}

// newSpreadModel differences the spread at x over a step of each number, 0 where it is
// held. It is nil where there is no sample or no spread to be had.
func (s *searcher) newSpreadModel(x, steps []float64, sample [][]float64) *spreadModel {
	if sample == nil {
		return nil
	}
	here, ok := s.linearAt(x)
	if !ok {
		return nil
	}
	m := &spreadModel{at: slices.Clone(x), here: here, bends: make([][][]float64, len(x)), moves: make([][]float64, len(x)), sample: sample}
	for _, row := range here.changes {
		m.room = append(m.room, slices.Clone(row))
	}
	moved := slices.Clone(x)
	for j, step := range steps {
		if step == 0 {
			continue
		}
		moved[j] = x[j] + step
		there, ok := s.linearAt(moved)
		moved[j] = x[j]
		if !ok || len(there.sources) != len(here.sources) { // a step more or less in the path
			continue
		}
		for i, row := range there.changes {
			for k := range row {
				row[k] = (row[k] - here.changes[i][k]) / step
			}
		}
		for i := range there.values {
			there.values[i] = (there.values[i] - here.values[i]) / step
		}
		m.bends[j], m.moves[j] = there.changes, there.values
	}
	return m
}

// fragility is that of a design x whose loads are known.
func (m *spreadModel) fragility(x, loads []float64) float64 {
	for i, row := range m.room {
		copy(row, m.here.changes[i])
		for j, b := range m.bends {
			if d := x[j] - m.at[j]; d != 0 && b != nil {
				for k, v := range b[i] {
					row[k] += d * v
				}
			}
		}
	}
	l := linear{terms: m.here.terms, values: loads, changes: m.room}
	return fragileCost * (1 - l.share(m.sample))
}

// slope is how the fragility changes by a unit of each number. Aimed loads are taken as they
// are: that they go astray their target tells, and a step away from a design that meets it
// says little of where others that meet it lie. It is differenced over a step of the grid
// each way, for a share of a sample has no smaller slopes. Without a model it is 0.
func (m *spreadModel) slope(grid []float64) []float64 {
	slope := make([]float64, len(grid))
	if m == nil {
		return slope
	}
	x, loads := slices.Clone(m.at), slices.Clone(m.here.values)
	at := func(j int, step float64) float64 {
		x[j] = m.at[j] + step
		for i, term := range m.here.terms {
			if !term.window.Aimed {
				loads[i] = m.here.values[i] + step*m.moves[j][i]
			}
		}
		return m.fragility(x, loads)
	}
	for j, b := range m.bends {
		if b != nil {
			slope[j] = (at(j, grid[j]) - at(j, -grid[j])) / (2 * grid[j])
			x[j] = m.at[j]
		}
	}
	return slope
}
