package words

// portugueseAsBent has the phrases of the sheet of a spring as bent in Portuguese (from memory).
var portugueseAsBent = map[string]string{
	"As bent %s": "Como dobrada %s",
	"A spring as bent over its drawing at true scale: print at 100 %%": "Uma mola como saiu, sobre o seu desenho em escala real: imprimir a 100 %%",
	"As bent: not a template to bend over.":                            "Como dobrada: não é um gabarito para dobrar.",
	"As bent":                                                          "Como dobrada",
	"Black: as it most likely came out. Grey: as drawn. Both free. Ringed: what to correct.": "Preto: como mais provavelmente saiu. Cinza: como desenhada. Ambas livres. Círculo: o que corrigir.",
	"Of 100 springs that it may be %d meet the target as bent.":                              "De 100 molas que ela pode ser, %d cumprem o objetivo como dobradas.",
	"Best correction: %s.":    "Melhor correção: %s.",
	"Or, at two places: %s.":  "Ou, em dois lugares: %s.",
	"Then %d of 100 meet it.": "Então %d de 100 o cumprem.",
	"Measure again after correcting. An estimate: check the force with a gauge before tying.": "Medir de novo depois de corrigir. É uma estimativa: conferir a força com dinamômetro antes de amarrar.",
	"No correction gains enough to be worth a bend.":                                          "Nenhuma correção ganha o bastante para valer uma dobra.",
	"open bend %d by %s, against the direction of its last bend":                              "abrir a dobra %d em %s, contra o sentido da sua última dobra",
	"close bend %d by %s more, in the direction of its last bend":                             "fechar a dobra %d mais %s, no sentido da sua última dobra",
	"bend the middle of the straight %s by %s, %s":                                            "dobrar o meio do trecho reto %s em %s, %s",
	"between bends %d and %d":                                                                 "entre as dobras %d e %d",
	"between the anchor slot and bend %d":                                                     "entre a canaleta de ancoragem e a dobra %d",
	"between bend %d and the active slot":                                                     "entre a dobra %d e a canaleta ativa",
	"to the left, seen from the cheek":                                                        "para a esquerda, visto da bochecha",
	"to the right, seen from the cheek":                                                       "para a direita, visto da bochecha",
}

// spanishAsBent has them in Spanish (from memory).
var spanishAsBent = map[string]string{
	"As bent %s": "Como se dobló %s",
	"A spring as bent over its drawing at true scale: print at 100 %%": "Un resorte como salió, sobre su dibujo a escala real: imprimir al 100 %%",
	"As bent: not a template to bend over.":                            "Como se dobló: no es una plantilla para doblar.",
	"As bent":                                                          "Como se dobló",
	"Black: as it most likely came out. Grey: as drawn. Both free. Ringed: what to correct.": "Negro: como más probablemente salió. Gris: como se dibujó. Ambos libres. Círculo: lo que hay que corregir.",
	"Of 100 springs that it may be %d meet the target as bent.":                              "De 100 resortes que puede ser, %d cumplen el objetivo tal como se doblaron.",
	"Best correction: %s.":    "Mejor corrección: %s.",
	"Or, at two places: %s.":  "O, en dos lugares: %s.",
	"Then %d of 100 meet it.": "Entonces %d de 100 lo cumplen.",
	"Measure again after correcting. An estimate: check the force with a gauge before tying.": "Medir de nuevo después de corregir. Es una estimación: comprobar la fuerza con dinamómetro antes de ligar.",
	"No correction gains enough to be worth a bend.":                                          "Ninguna corrección gana lo bastante para valer un doblez.",
	"open bend %d by %s, against the direction of its last bend":                              "abrir el doblez %d en %s, contra el sentido de su último doblez",
	"close bend %d by %s more, in the direction of its last bend":                             "cerrar el doblez %d otros %s, en el sentido de su último doblez",
	"bend the middle of the straight %s by %s, %s":                                            "doblar la mitad del tramo recto %s en %s, %s",
	"between bends %d and %d":                                                                 "entre los dobleces %d y %d",
	"between the anchor slot and bend %d":                                                     "entre la ranura de anclaje y el doblez %d",
	"between bend %d and the active slot":                                                     "entre el doblez %d y la ranura activa",
	"to the left, seen from the cheek":                                                        "hacia la izquierda, visto desde la mejilla",
	"to the right, seen from the cheek":                                                       "hacia la derecha, visto desde la mejilla",
}
