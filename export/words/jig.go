package words

import (
	"strconv"
	"strings"

	"springwright/export/jig"
)

// Jig says what a plate is like, how it is printed and used, and what it tells of a spring and what not.
func (b *Book) Jig(j jig.Jig) []string {
	mm := func(v float64) string { return b.Number(v, 2) }
	lines := []string{
		b.Say("Plate %s × %s mm, %s mm high. Groove %s mm wide: the wire and %s mm of clearance on each side.",
			b.Number(j.SizeMM.X, 1), b.Number(j.SizeMM.Y, 1), b.Number(j.SizeMM.Z, 1), mm(j.GrooveMM), mm(j.ClearanceMM)),
	}
	if j.ProudMM >= 0.01 {
		lines = append(lines, b.Say("The wire stands %s mm out of the groove, for tweezers.", mm(j.ProudMM)))
	}
	if j.Recesses > 0 {
		lines = append(lines, b.Say("Round recesses under straight legs let the tips of tweezers under the wire."))
	}
	if j.RiseMM > 0 {
		lines = append(lines, b.Say("The spring leaves its plane: the groove rises and falls with it, by %s mm.", mm(j.RiseMM)))
	}
	lines = append(lines,
		b.Say("Print it in plastic at 100 %%, flat side down, in layers of 0.1 mm or less; remove threads from the groove. Measure the plate's two sides before use."),
		b.Say("Lay the passive spring in from above, as seen from the cheek, without pressing: a wire that has to be pressed in is not as drawn."))
	return append(lines, b.jigTells(j)...)
}

// jigTells says what a spring that drops in proves.
func (b *Book) jigTells(j jig.Jig) []string {
	var lines, outside, unguided []string
	var least, most *jig.Bend
	for i := range j.Bends {
		bend := &j.Bends[i]
		switch {
		case bend.Unheld == jig.OutOfPlane:
			outside = append(outside, strconv.Itoa(bend.Number))
		case bend.Unheld == jig.ShortLegs:
			unguided = append(unguided, strconv.Itoa(bend.Number))
		default:
			if least == nil || bend.PassesRad < least.PassesRad {
				least = bend
			}
			if most == nil || bend.PassesRad > most.PassesRad {
				most = bend
			}
		}
	}
	list := func(numbers []string) string { return strings.Join(numbers, ", ") }
	lines = append(lines, b.Say("A spring that drops in lies within %s mm of its drawing, seen from the cheek.", b.Number(j.ClearanceMM, 2)))
	if least != nil && least.Number != most.Number {
		lines = append(lines, b.Say("That does not prove its couples: with this clearance bend %d may be off by up to %s and bend %d by up to %s, and the spring still drops in. Measure the force with a gauge, and the angles that matter.",
			least.Number, b.Degrees(least.PassesRad), most.Number, b.Degrees(most.PassesRad)))
	} else if least != nil {
		lines = append(lines, b.Say("That does not prove its couples: with this clearance bend %d may be off by up to %s, and the spring still drops in. Measure the force with a gauge, and the angles that matter.",
			least.Number, b.Degrees(least.PassesRad)))
	} else {
		lines = append(lines, b.Say("That does not prove its couples. Measure the force with a gauge, and the angles that matter."))
	}
	if len(unguided) > 0 {
		lines = append(lines, b.Say("It tells nothing of these bends, whose legs are too short or too near to others: %s.", list(unguided)))
	}
	if len(outside) > 0 {
		lines = append(lines, b.Say("It does not hold these bends and twists, which leave the plate's plane: %s. Look whether the wire lies on the floor of the groove all along.", list(outside)))
	}
	if len(j.OpenWalls) > 0 {
		lines = append(lines, b.Say("Where legs pass each other nearer than a printer makes a wall (%s mm), the wall between them is left out: there the groove guides them from outside only.",
			b.Number(jig.ThinnestWallMM, 1)))
	}
	return lines
}

// portugueseJig has them in Portuguese (from memory).
var portugueseJig = map[string]string{
	"Plate %s × %s mm, %s mm high. Groove %s mm wide: the wire and %s mm of clearance on each side.":                                                                                                          "Placa de %s × %s mm, %s mm de altura. Sulco de %s mm de largura: o fio e %s mm de folga de cada lado.",
	"The wire stands %s mm out of the groove, for tweezers.":                                                                                                                                                  "O fio fica %s mm para fora do sulco, para a pinça.",
	"Round recesses under straight legs let the tips of tweezers under the wire.":                                                                                                                             "Rebaixos redondos sob trechos retos deixam a ponta da pinça entrar sob o fio.",
	"The spring leaves its plane: the groove rises and falls with it, by %s mm.":                                                                                                                              "A mola sai do seu plano: o sulco sobe e desce com ela, em %s mm.",
	"Print it in plastic at 100 %%, flat side down, in layers of 0.1 mm or less; remove threads from the groove. Measure the plate's two sides before use.":                                                   "Imprima em plástico a 100 %%, com o lado plano para baixo, em camadas de 0,1 mm ou menos; retire os fiapos do sulco. Meça os dois lados da placa antes de usar.",
	"Lay the passive spring in from above, as seen from the cheek, without pressing: a wire that has to be pressed in is not as drawn.":                                                                       "Deite a mola passiva por cima, como vista da bochecha, sem apertar: um fio que precisa ser apertado não está como no desenho.",
	"A spring that drops in lies within %s mm of its drawing, seen from the cheek.":                                                                                                                           "Uma mola que cai no sulco fica a no máximo %s mm do desenho, vista da bochecha.",
	"That does not prove its couples: with this clearance bend %d may be off by up to %s and bend %d by up to %s, and the spring still drops in. Measure the force with a gauge, and the angles that matter.": "Isso não prova os binários: com esta folga a dobra %d pode errar até %s e a dobra %d até %s, e a mola ainda cai no sulco. Meça a força com o dinamômetro, e os ângulos que importam.",
	"That does not prove its couples: with this clearance bend %d may be off by up to %s, and the spring still drops in. Measure the force with a gauge, and the angles that matter.":                         "Isso não prova os binários: com esta folga a dobra %d pode errar até %s, e a mola ainda cai no sulco. Meça a força com o dinamômetro, e os ângulos que importam.",
	"That does not prove its couples. Measure the force with a gauge, and the angles that matter.":                                                                                                            "Isso não prova os binários. Meça a força com o dinamômetro, e os ângulos que importam.",
	"It tells nothing of these bends, whose legs are too short or too near to others: %s.":                                                                                                                    "Ela nada diz destas dobras, cujos trechos são curtos demais ou próximos demais de outros: %s.",
	"It does not hold these bends and twists, which leave the plate's plane: %s. Look whether the wire lies on the floor of the groove all along.":                                                            "Ela não segura estas dobras e torções, que saem do plano da placa: %s. Veja se o fio se apoia no fundo do sulco em todo o comprimento.",
	"Where legs pass each other nearer than a printer makes a wall (%s mm), the wall between them is left out: there the groove guides them from outside only.":                                               "Onde trechos passam mais próximos do que a impressora faz uma parede (%s mm), a parede entre eles é omitida: ali o sulco os guia só por fora.",
}

// spanishJig has them in Spanish (from memory).
var spanishJig = map[string]string{
	"Plate %s × %s mm, %s mm high. Groove %s mm wide: the wire and %s mm of clearance on each side.":                                                                                                          "Placa de %s × %s mm, %s mm de alto. Surco de %s mm de ancho: el alambre y %s mm de holgura a cada lado.",
	"The wire stands %s mm out of the groove, for tweezers.":                                                                                                                                                  "El alambre sobresale %s mm del surco, para las pinzas.",
	"Round recesses under straight legs let the tips of tweezers under the wire.":                                                                                                                             "Rebajes redondos bajo tramos rectos dejan entrar la punta de las pinzas bajo el alambre.",
	"The spring leaves its plane: the groove rises and falls with it, by %s mm.":                                                                                                                              "El resorte sale de su plano: el surco sube y baja con él, en %s mm.",
	"Print it in plastic at 100 %%, flat side down, in layers of 0.1 mm or less; remove threads from the groove. Measure the plate's two sides before use.":                                                   "Imprimir en plástico al 100 %%, con el lado plano hacia abajo, en capas de 0,1 mm o menos; quitar los hilos del surco. Medir los dos lados de la placa antes de usarla.",
	"Lay the passive spring in from above, as seen from the cheek, without pressing: a wire that has to be pressed in is not as drawn.":                                                                       "Poner el resorte pasivo desde arriba, como se ve desde la mejilla, sin apretar: un alambre que hay que apretar no está como se dibujó.",
	"A spring that drops in lies within %s mm of its drawing, seen from the cheek.":                                                                                                                           "Un resorte que cae en el surco queda a no más de %s mm de su dibujo, visto desde la mejilla.",
	"That does not prove its couples: with this clearance bend %d may be off by up to %s and bend %d by up to %s, and the spring still drops in. Measure the force with a gauge, and the angles that matter.": "Eso no prueba sus pares de fuerzas: con esta holgura el doblez %d puede errar hasta %s y el doblez %d hasta %s, y el resorte todavía cae. Medir la fuerza con dinamómetro, y los ángulos que importan.",
	"That does not prove its couples: with this clearance bend %d may be off by up to %s, and the spring still drops in. Measure the force with a gauge, and the angles that matter.":                         "Eso no prueba sus pares de fuerzas: con esta holgura el doblez %d puede errar hasta %s, y el resorte todavía cae. Medir la fuerza con dinamómetro, y los ángulos que importan.",
	"That does not prove its couples. Measure the force with a gauge, and the angles that matter.":                                                                                                            "Eso no prueba sus pares de fuerzas. Medir la fuerza con dinamómetro, y los ángulos que importan.",
	"It tells nothing of these bends, whose legs are too short or too near to others: %s.":                                                                                                                    "No dice nada de estos dobleces, cuyos tramos son demasiado cortos o están demasiado cerca de otros: %s.",
	"It does not hold these bends and twists, which leave the plate's plane: %s. Look whether the wire lies on the floor of the groove all along.":                                                            "No sujeta estos dobleces y torsiones, que salen del plano de la placa: %s. Mirar si el alambre se apoya en el fondo del surco en todo su largo.",
	"Where legs pass each other nearer than a printer makes a wall (%s mm), the wall between them is left out: there the groove guides them from outside only.":                                               "Donde los tramos pasan más cerca de lo que la impresora hace una pared (%s mm), la pared entre ellos se omite: allí el surco los guía solo por fuera.",
}
