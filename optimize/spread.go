package optimize

import "springwright/optimize/hand"

// spreadModel is how the loads of a bender's springs spread about designs near one: the
// change of every load by every error, to first order in the design's own numbers.
type spreadModel struct {
	here   hand.Linear
	bends  [][][]float64 // change of here.Changes by a unit of each number; nil where it is held
	sample [][]float64
}

// spreadModelAt is a model that takes the spread of one design for that of all.
func spreadModelAt(p *problem, here hand.Linear) *spreadModel {
	return &spreadModel{here: here, bends: make([][][]float64, len(p.axes)), sample: p.sample}
}

// difference takes up what the linear model, which it overwrites, is a step of number j away.
func (m *spreadModel) difference(j int, step float64, there hand.Linear) {
	if there.Sources() != m.here.Sources() { // a step more or less in the tidy path
		return
	}
	for i, row := range there.Changes {
		for k := range row {
			row[k] = (row[k] - m.here.Changes[i][k]) / step
		}
	}
	m.bends[j] = there.Changes
}
