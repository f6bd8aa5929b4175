// Package pack reads rule packs, puts them in layers, and judges a set of facts by them: what is met, what is not, what
// does not apply and what could not be checked. It knows rules only as data and facts only through the vocabulary; it
// must not know where facts come from, nor any region by name.
//
// # A pack
//
// A pack is one YAML file, with its tables as CSV files in the same folder. Anchors, aliases and tags are not read, and
// a key that is unknown or written twice is a problem.
//
//	pack: practice                # id: lower case letters, digits and hyphens
//	format: 1
//	edition: "2026.1"
//	title: Common practice in timber framing
//	needs:                        # packs that must be there; their params can be named as practice.least_bearing
//	  - {pack: load-path, edition: "2026.1"}
//	params:                       # what a house may set
//	  least_bearing_masonry: {value: 90 mm, safe: higher, text: least bearing of timber on masonry}
//	  cut_roles: {value: [rafter, hip rafter], text: roles that this is about}
//	define:                       # shared expressions, read anew in the scope of each rule that uses them
//	  sloping: slope > deg(5)
//	tables:
//	  rafters: {file: rafters.csv, text: longest spans}
//	  deck: {columns: ["thick [mm] next down", "centres [mm]"], rows: [[18, 450], [22, 600]], text: spacing by deck}
//	rules:
//	  - id: bearing-on-masonry
//	    title: Timber bearing on masonry
//	    judges: support           # member | support | area | frame | change
//	    where: member.material == "timber" and on.material == "masonry"
//	    require: bearing >= least_bearing_masonry
//	    severity: stop            # stop | ask | note, or a list (below)
//	    say: "{member.id} bears {bearing} on {on.id}; {least_bearing_masonry} is needed"
//	    do: Lengthen the bearing, or set a padstone or plate and ask the engineer.
//	    source: common practice, no source
//	    why: Short bearings crush, and a joist can pull off when the wall moves.
//	    examples:
//	      - met:     {bearing: 100 mm, member: {material: timber}, on: {material: masonry}}
//	      - not_met: {bearing: 60 mm,  member: {material: timber}, on: {material: masonry}}
//
// Of a rule, id, title, judges, require, severity, say, source, why and examples must be there. where may be left out
// (the rule applies to every row of its subject). Further keys:
//
//   - found, need: the two figures to print where require is not one comparison. Whether need is the least or the most is
//     taken from a comparison in require that has it on one side.
//   - do: what to do about it.
//   - was: a list of the rule's old ids, bare or as pack/id; they resolve to the rule.
//   - keys: document keys that feed the rule, such as supports.bearing; left out, those of the facts it names.
//
// A list of severities is read from the top, and the last entry has no when. Where a when cannot be known, the gravest
// entry holds.
//
//	severity:
//	  - {when: eccentricity_ratio > 1/3, is: stop}
//	  - {is: ask}
//
// A param's value is a quantity with its unit, a number, a text, true or false, or a list of texts or of quantities (for
// the right side of in). safe says which way it may be set without loosening: higher or lower; without it every
// change counts as loosening.
//
// # A house pack
//
// A pack may change packs that come before it. Each entry says why.
//
//	set:
//	  - {pack: practice, param: least_bearing_masonry, value: 100 mm, reason: soft bricks in our district}
//	change:
//	  - {rule: practice/strutting, severity: note, reason: our engineer sees every floor}
//	off:
//	  - {rule: practice/nominal-sizes, reason: all our timber is planed}
//
// # Expressions
//
// Names are those of the vocabulary, in the scope of what the rule judges: its facts bare (bearing) or by its own name
// (support.bearing), what it reaches by a relation (on.material, member.role), regional facts with their prefix
// (ec5.bending, member.ec5.bending), then params, definitions and tables. A fact or relation goes before a param of the
// same name, which vet refuses anyway.
//
//   - Numbers: + - * / % ** and abs, min, max, sqrt, floor, ceil, round; sin, cos and tan of an angle; asin, acos and
//     atan, which give one.
//   - Quantities: mm(90), m, cm, inch, ft, mm2, mm3, mm4, N, kN, lb, kip, N_mm, kN_m, lb_ft (plf is the same), Nmm, kNm,
//     N_mm2, kN_m2, psf, psi, ksi, kg, kg_m, kg_m3, deg, rad. A bare number is not a length; only 0 goes with everything.
//   - Comparisons: == != < <= > >=, within 1e-9 of the larger; a <= b <= c is read as both.
//   - Texts: == != in [..] not in contains startsWith endsWith matches (a constant pattern). Texts are not joined.
//   - Logic: and or not, from left to right, the rest left alone once the answer is sure; cond ? a : b (quote it, since YAML reads
//     the colon), if cond {a} else {b}.
//   - Collections (supports, drawings, notches, holes, landings, carriers, grounds): all, any, none, one, count with a
//     condition; len; filter; sum(c, x); min, max and sum of map(c, x). Inside, .bearing is of the element, a bare name
//     of what the rule judges. all of nothing is true; the least of nothing is absent.
//   - known(x): whether a fact, or the one row of a relation, is there, without touching it.
//   - Tables: rafters(section, centres, load); of a table with several value columns rafters.span(section, ...).
//
// Touching what is absent makes the rule unchecked, in where too. So does a number that is not finite. An expression is
// at most 4 KiB long and 64 brackets deep, and one evaluation takes a bounded number of steps: beyond them the rule
// fails, which is never a pass.
//
// say is text with expressions in braces; quantities are printed in the document's units, "{{" prints a brace.
//
// # Tables
//
// The first row of a CSV names its columns: NAME [UNIT] and how it is matched. Keys say exact, next up, next down or
// between; a column that says none of them is a value. A column of words says text in place of a unit. Lines that start
// with # are comments; an empty cell, or -, is no value.
//
//	# spans in mm
//	section text exact, centres [mm] next up, load [kN/m2] between, span [mm]
//	47x147, 400, 0.50, 3190
//
// next takes the nearest listed key upwards or downwards, to the safe side; between is linear between its two
// neighbours, several columns at once allowed. Out of the table's range the look-up is absent.
//
// # Examples
//
// Each entry has one of met, not_met, unchecked, not_applicable, and beside it text, if a word is needed. Facts are
// nested as rules name them: own facts bare, a relation to one row as a mapping, a collection as a list of mappings.
// Quantities carry their unit. What is left out, or ~, is absent; a collection that is left out is empty. Each rule has
// at least one met and one not_met.
package pack
