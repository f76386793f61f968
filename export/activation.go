package export

import "springwright/design/report"

// activationTexts say how the spring is tried on the bench; none where there is nothing to try.
func (s *subject) activationTexts() []string {
	a, ok := report.ActivationOf(s.job.Case, s.job.Spring, s.job.Evaluation)
	if !ok {
		return nil
	}
	made := s.job.Spring
	made.Teeth = s.view.Teeth
	return s.words.Activation(s.job.Case, made, a)
}
