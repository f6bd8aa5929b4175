package draw

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
)

// dotPrinter prints a trace as a graph in the DOT language of Graphviz, the load flowing downwards.
type dotPrinter struct{}

func (dotPrinter) Print(w io.Writer, t Trace) error {
	out := bufio.NewWriter(w)
	path := PathOf(t.Frame, t.Mark)
	fmt.Fprintf(out, "// %s\n", finding.Caution)
	fmt.Fprintf(out, "digraph %s {\n", quoted("load path of "+t.Mark))
	fmt.Fprintln(out, "  rankdir=TB; node [shape=box, fontname=\"sans-serif\"]; edge [fontname=\"sans-serif\", fontsize=10];")
	hops := path.Down
	for _, hop := range path.Up {
		if !slices.Contains(path.Down, hop) { // in a circle a hop lies both ways
			hops = append(hops, hop)
		}
	}
	flows := Flows(t.Frame, hops)
	members := map[string]Member{}
	for _, m := range t.Frame.Members {
		members[m.Mark] = m
	}
	seen := map[string]bool{}
	node := func(mark string) {
		if seen[mark] {
			return
		}
		seen[mark] = true
		m := members[mark]
		label := mark + "\n" + strings.TrimSpace(m.Role+" "+m.Section)
		if m.State.rank() <= Unchecked.rank() {
			label += "\n" + m.State.Words()
		}
		style := ""
		switch {
		case mark == t.Mark:
			style = ", penwidth=3"
		case m.Ground:
			style = ", shape=box3d"
		}
		fmt.Fprintf(out, "  %s [label=%s%s];\n", quoted(mark), quoted(label), style)
	}
	node(t.Mark)
	for _, flow := range flows {
		node(flow.From)
		node(flow.To)
		label := strings.ReplaceAll(loadWords(flow.Load, t.Frame), ", ", "\n")
		if len(flow.Hops) > 1 {
			label += fmt.Sprintf("\n%d places", len(flow.Hops))
		}
		fmt.Fprintf(out, "  %s -> %s [label=%s];\n", quoted(flow.From), quoted(flow.To), quoted(label))
	}
	fmt.Fprintln(out, "}")
	return out.Flush()
}

// quoted writes a text as a DOT string; only its line breaks are kept as such.
func quoted(text string) string {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		line = report.Clean(line)
		line = strings.ReplaceAll(line, `\`, `\\`)
		lines[i] = strings.ReplaceAll(line, `"`, `\"`)
	}
	return `"` + strings.Join(lines, `\n`) + `"`
}
