package main

import (
	"bytes"

	"github.com/spf13/cobra"

	"example.com/scantling/engine"
	"example.com/scantling/engine/changes"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/report/compare"
	"example.com/scantling/engine/signoff"
	"example.com/scantling/model/read"
)

func (a *app) compareCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "compare MODEL BUILT",
		Short: "Hold what was built against what was drawn",
		Long: "Compare lists every difference between a frame as drawn and as built, with what the rules on changes make of it,\n" +
			"and every reaction, ground load and rule outcome that is another because of it.\n\n" +
			"BUILT is a whole model, or a JSON merge patch (RFC 7396) on MODEL that says only what is built otherwise:\n\n" +
			"  {\"members\": {\"RB1\": {\"section\": \"115x225\", \"seen\": {\"by\": \"site agent\", \"date\": \"2026-04-03\"}}}}\n\n" +
			"A member that is not built is null, or has the phase removed, which leaves room for who saw it.\n\n" +
			"Exit status: 0 no finding at or above the threshold; 1 findings; 2 the input or the call cannot be used;\n3 the comparison is incomplete.",
		Args: cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			printer, err := compare.Formats.Printer(a.format("text"), a.options(false))
			if err != nil {
				return err
			}
			return a.onModel(args[0], func(session *engine.Session, drawn *engine.Source) error {
				built, problems := a.built(drawn, args[1])
				if problems != nil {
					return a.refuse(problems)
				}
				o := a.judging(engine.Options{Today: today()})
				if o.Signed, err = signoff.Load(signoff.Path(built.File)); err != nil {
					return unusable{err}
				}
				c, err := changes.Compare(cmd.Context(), session, drawn, built, o)
				if err != nil {
					return a.packErrors(err)
				}
				c.Result.AtLeast = finding.Severity(a.settings.AtLeast)
				finding.Count(c.Result)
				a.status = c.Result.Status(c.Result.AtLeast)
				return a.print(func(w *bytes.Buffer) error { return printer.Print(w, c) })
			})
		},
	}
	cmd.Flags().StringVar(&a.flags.Format, "format", "", "one of "+joined(compare.Formats.Names()))
	cmd.Flags().StringVar(&a.flags.AtLeast, "at-least", "", "threshold of the exit status: stop, ask or note")
	return cmd
}

// built reads what was built: a whole model, which says "framing" at its top, or a merge patch on what was drawn.
func (a *app) built(drawn *engine.Source, arg string) (*engine.Source, []report.Problem) {
	text, bad := read.File(arg)
	if len(bad) > 0 {
		return nil, printable(bad)
	}
	if isFraming(text.Text) {
		return source(text, nil)
	}
	src, bad := engine.Patched(drawn, text)
	if len(bad) > 0 {
		return nil, printable(bad)
	}
	return src, nil
}
