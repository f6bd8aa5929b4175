package irc

import (
	"strconv"
	"strings"

	"example.com/scantling/plugins/us/nds"
)

// DesignValues names the design values that the span tables of a code edition rest on: IRC 2009, 2012, 2015, 2018,
// 2021 (the year alone will do), or IBC 2018; case and spaces do not matter. IRC 2015, 2018 and the older ones are established by their cells; 2021 by recalled ones
// (reproduced). An edition that is not known is an *nds.Absence.
func DesignValues(edition string) (nds.Edition, error) {
	switch strings.TrimPrefix(strings.ToUpper(strings.ReplaceAll(edition, " ", "")), "IRC") {
	case "2021", "2018", "2015":
		return nds.Supplement2018, nil
	case "2012", "2009":
		return nds.Tables2012, nil
	case "IBC2018":
		return nds.Tables2018, nil
	}
	return "", &nds.Absence{What: "edition " + strconv.Quote(edition), Reason: "its span tables are not known; known are IRC 2009, 2012, 2015, 2018, 2021 and IBC 2018"}
}
