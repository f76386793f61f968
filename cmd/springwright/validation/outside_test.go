package validation

// outside are checks by other programs that give no figure to put beside one of ours, or run too long for this page.
func outside(p *page) {
	p.line("## Is what comes out of the program as it should be?\n\nChecks by programs of others, each run by the test named wherever the program is installed.")
	row := func(question, by, bound, test string) []string {
		where := "–"
		if test != "" {
			where = p.test(test)
		}
		return []string{question, by, bound, where}
	}
	p.table([]string{"question", "checked by", "what is asked", "held by"}, [][]string{
		row("Do the sheets print true to scale?", "poppler (pdftoppm), Ghostscript, librsvg, Chromium", "bars and every corner of the wire measured in the pixels", "export TestEveryPageIsTrueToScale"),
		row("Does a corrected sheet make up for a printer?", "poppler", "lengths in the pixels", "export TestCorrectionIsPrinted"),
		row("Do SVG and PDF show the same?", "librsvg, poppler", "pixels", "export TestSVGLooksLikeThePDF"),
		row("Are the PDF files sound?", "qpdf --check", "no error, no warning", "export TestSheetsCanBeReadAloud"),
		row("Are their tags sound?", "pdfcpu 0.15, validate in strict mode, by hand", "ok", ""),
		row("Is the plate a closed solid?", "admesh", "no edge open, nothing to repair", "export/jig TestOutsideProgram"),
		row("Is a picture of a spring straightened right?", "ImageMagick 6.9, numpy 1.24", "eight numbers of the perspective, to the digits printed", "design/photo TestHomographyAgainstOtherPrograms"),
		row("Is the most likely spring the most likely?", "generalised least squares by gonum's matrices", "each number, its standard error", "optimize/asbent TestEstimateAgainstGeneralisedLeastSquares"),
		row("Is what is learned of a patient what least squares says?", "QR factorisation by gonum", "each number, its range", "optimize/visit TestTheEstimateIsOneOfLeastSquares"),
		row("Are contacts in slots found?", "every state of the edges, solved for itself on a chain of links", "forces, couples, which edges touch", "design/solve TestContactsAgainstEnumeration"),
		row("Does the search find the least of a sum of squares?", "Moré, Garbow & Hillstrom, ACM Trans Math Softw 1981;7:17", "their least sums from their starting points", "optimize/lsq TestLevenbergSolvesPublishedProblems"),
		row("Does yielding in bending and twist follow its law?", "rate equations in thousands of small steps", "stresses", "design/fibre TestKinematicAgainstRateEquations"),
		row("Is a hooked wire a cantilever?", "3EI/L³, any textbook", "force, couple on the anchor", "design/solve TestHookedWireIsACantilever"),
		row("Is friction in a slot that of the textbook?", "a beam pressed on two edges", "the band of the force along the wire", "design/solve TestFrictionOfAStraightWire"),
		row("Do random springs balance, and turn with the mouth?", "statics", "1e-7 of the loads", "design/solve TestRandomSprings"),
	})
}
