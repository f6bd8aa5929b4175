// Package nds checks sawn dimension lumber by allowable stress after the National Design Specification for Wood
// Construction: design values by grade, the factors that adjust them, and the checks of chapters 3 and 4, each with
// its working. It must not know models, load combinations or findings, only one member, its stresses and its clause.
//
// Everything that crosses the package boundary is in mm, N and N/mm2 (moments in N mm). The design values are kept in
// psi, as published, and turned exactly on loading: 1 in = 25.4 mm, 1 psi = 0.006894757293168 N/mm2. Factors that the
// NDS tabulates by nominal inches are looked up by nominal size, never by a rounded metric one.
//
// Clause numbers are those of the 2018 NDS. Factors tagged "memory" in their comments were recalled and not read in a
// document; the design values carry where each row comes from (Grade.Origin).
package nds

// Inch is one inch in mm, exact.
const Inch = 25.4

// PSI is one pound-force per square inch in N/mm2, exact to the digits that the pound and the inch fix.
const PSI = 6894.757293168e-6
