package validation

const introduction = `For whoever wants to check springwright before trusting it: every comparison with something outside the program, what it says, what they say, how far the two lie apart, and why.
The figures in the columns "springwright" and all pictures are reckoned anew by a test on every run, and the page fails the test if it no longer says what comes out. "From memory" stands where a number was not read in its source.

In short: the mechanics of a wire agree with closed forms to the digits printed, with solids to about 1 %; sections, play and springback with what was measured within its spread. The loads of real springs in real tubes
agree with most of what two bench studies found, of which the abstracts could be read, and in size to about a factor of two, in which lies what those leave untold. No spring bent by hand was measured on purpose for this program.`

const tippedStudy = "Am J Orthod Dentofacial Orthop 2018, doi 10.1016/j.ajodo.2017.07.021; only the abstract was read"

const benchIntroduction = `## Are the loads those that load cells measure?

Bench studies do not tell all that a reckoning needs, most of all how far the tubes lie apart, where the loop stands, and whether the wire could slide. So what is asked is first which trends hold; then how large the difference is, and what may account for it.`

const intrusionStudy = `Second molar intrusion: continuous arch or loop mechanics?, Am J Orthod Dentofacial Orthop 2018; only the abstract was read, which has one figure: with the arch the moment at the centre of resistance of the second molar starts at 3.6 N·mm crown-mesial and falls to nothing after 2 mm. Loops of beta-titanium, arches of superelastic nickel-titanium; sizes are not told there.`

const defaultsIntroduction = `## What is taken where nothing is measured?

Each with its source and spread, or "from memory", and what is published beside it. None of these was changed for this page: the presets and the tests rest on them, and a better one is to be had by measuring the case.`

const resistanceShare = `By the share of the root: 33 to 42 % of its length from the edge of the bone, for teeth with one root (a review, Hellenic Orthod Rev 2005;8(1), abstract), with usual lengths of crowns and roots (textbook of dental anatomy, from memory), slots 4 to 5 mm from the biting edge. The two ways disagree by 1 to 4 mm for lower front teeth: finite elements of a group, whose teeth hold each other, are not the tooth alone.`

const resistanceWorth = `**What a case gains by measuring:** the moment at the centre of resistance is off by the force times the error of its place. With 0.4 N an offset that is 1.4 mm too far distal is 0.6 N·mm, more than the 0.5 that the demo allows; 2.7 mm, one standard deviation among patients, is 1.1 N·mm. A windowed target "at the centre of resistance" inherits that in full, one at the slot does not: then only what is said of tipping does.
A radiograph seen from the cheek tells two of the three, a tomogram all; they go into ` + "`[resistance.active]`" + ` and ` + "`[resistance.anchor]`" + ` of the case file. A molar's distal offset and a front tooth's depth are worth it most, for they are guesses; their errors have a sense: lower molars are told to tip rather too far, canines to need too small a couple. Of lower incisors the published figures lie on both sides.`

const rootWorth = `Lower incisors and molars are from memory and may be too small by a tenth beside the measured ones, "greater than in most previous studies". A published comparison by tomography of all lower teeth (NUJST 2023;31(3):103) was found, its figures not.
**What a case gains by measuring:** surfaces only share the travel between the two teeth. A tenth more of the anchor's changes the anchor's own part by about a tenth: of 2 mm shared by a ratio of 2, that is 0.04 mm. ` + "`hold_ratio`" + ` in ` + "`[anchor]`" + ` takes an own number; the visits fit it from what the teeth have done, which tells more than any surface.`

const alloyWorth = `Three-point bends of 0.014 in wire with the usual superelastic data give 57 gf on the way back at 2 mm, with the stronger set of the tests 80 (` + "`TestSuperelasticThreePointBending`" + `). Makes of superelastic archwires had means from 98 to 151 gf on the way back (Mater Res 2015;18(6), abstract; the size is not told there), so the usual data lie low, or their wires were thicker: on a plateau the force goes with the third power of the diameter, and 0.016 in gives half as much again.
**What a case gains by measuring:** the force. A gauge at the printed deflection tells modulus and section together, to a tenth; without it they are known to about a quarter. Of a superelastic wire the maker's curve at 37 °C, unloading at 2 mm, is the number to ask for.`

const slotWorth = `**What a case gains by measuring:** for 0.017 × 0.025 in wire the play in torque, one way, is %.1f°, %.1f° and %.1f° in slots of 0.548, 0.559 and 0.576 mm: leaf gauges that tell 0.01 mm tell it to two degrees.`

const unknown = `## What has not been checked

- No spring bent by hand and no photograph of one was measured for this program; hands are modelled, from common practice.
- The two bench studies were read as abstracts; tables and drawings of their set-ups were not at hand.
- How fast teeth move, and which way they turn over weeks, rests on statics and rates from memory.
- Friction is a band, not a prediction; saliva, chewing and wear are left out.
- Relaxation, the Bauschinger effect of real drawn wire and the stress left by drawing are ranges from memory.
- Gum and cheek are limits of size, not touched bodies.
`

const intrusionFindings = `Holds: at 3 mm the arch pushes harder than the loop, with the weakest data hardly, and it does so over the last 2 mm; the moment at the second molar's centre of resistance is low with the loop and high with the arch, and falls as the molar comes up. Its size, 3.6 N·mm, is met with the weakest data where the centre does not lie distal of the tube; where it lies as taken here, it is 1.7 times that.
Does not hold: that it is next to nothing after 2 mm, for here 0.4 of it are left; and that the first molar's couple is the same with both, for here the loop's is more than twice the arch's, as statics asks of a loop that leaves no couple on the second. In the study above it was, with the molar tipped mesially. The mesial forces that they measured are friction's: here the wire slides without.`
