package tooth

// Member is one tooth of a pair, and has the words for what is done to that tooth: its outer
// side may be labial while the other's is buccal.
type Member struct {
	Pair
	Number Number
}

// ActiveMember is the active tooth with its words.
func (p Pair) ActiveMember() Member { return Member{p, p.Active} }

// AnchorMember is the anchor tooth with its words.
func (p Pair) AnchorMember() Member { return Member{p, p.Anchor} }

// InwardWord is "palatal" in the upper jaw and "lingual" in the lower.
func (n Number) InwardWord() string { return pick(n.Upper(), "palatal", "lingual") }

// OutwardWord is "buccal" beside molars and premolars and "labial" beside front teeth.
func (n Number) OutwardWord() string { return pick(n.Place() >= 4, "buccal", "labial") }

// OutwardWord is the word for the outer side of both teeth: "outward" where each has its own.
func (p Pair) OutwardWord() string {
	if word := p.Active.OutwardWord(); word == p.Anchor.OutwardWord() {
		return word
	}
	return "outward"
}

// ForceXWord names the way a force along x pushes: "mesial" or "distal".
func (p Pair) ForceXWord(forceN float64) string {
	return pick(forceN*p.MesialSign() >= 0, "mesial", "distal")
}

// ForceYWord names the way a force along y pushes: "buccal", or "lingual" or "palatal".
func (m Member) ForceYWord(forceN float64) string {
	return pick(forceN*m.BuccalSign() >= 0, m.Number.OutwardWord(), m.Number.InwardWord())
}

// ForceZWord names the way a force along z pushes: "intrusive" or "extrusive".
func (p Pair) ForceZWord(forceN float64) string { return pick(forceN >= 0, "intrusive", "extrusive") }

// CoupleXWord names what a couple about x does. About +x the crown, on the −z side of the
// root, goes towards +y.
func (m Member) CoupleXWord(coupleNMM float64) string {
	return m.ForceYWord(coupleNMM) + " crown torque"
}

// CoupleYWord names what a couple about y does. About +y the crown goes towards −x.
func (p Pair) CoupleYWord(coupleNMM float64) string {
	return pick(-coupleNMM*p.MesialSign() >= 0, "crown-mesial", "crown-distal")
}

// CoupleZWord names what a couple about z does. About +z the +x side of the tooth goes
// towards +y.
func (p Pair) CoupleZWord(coupleNMM float64) string {
	return pick(coupleNMM*p.MesialSign()*p.BuccalSign() >= 0, "mesial-out", "mesial-in")
}
