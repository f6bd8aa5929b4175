package main

import (
	"bytes"
	"context"
	"errors"
	"time"

	"github.com/spf13/cobra"

	"example.com/scantling/engine"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/signoff"
	"example.com/scantling/rules/pack"
)

func (a *app) checkCommand() *cobra.Command {
	var working bool
	cmd := &cobra.Command{
		Use:   "check MODEL...",
		Short: "Hold models against the rules and list what is found",
		Long: "Check holds framing models against the rule packs and lists what is not met, what must be asked, and what could\n" +
			"not be checked. MODEL is a file, a folder, or - for documents on the standard input.\n\n" +
			"Exit status: 0 nothing at or above the threshold; 1 findings; 2 the input or the call cannot be used;\n3 the run is incomplete.",
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			printer, err := report.Checks.Printer(a.format("text"), a.options(working))
			if err != nil {
				return err
			}
			found, status, err := a.check(cmd.Context(), args, engine.Options{Working: working})
			if err != nil {
				return err
			}
			a.status = status
			return a.print(func(w *bytes.Buffer) error { return printer.Print(w, found) })
		},
	}
	cmd.Flags().StringVar(&a.flags.Format, "format", "", "one of "+joined(report.Checks.Names()))
	cmd.Flags().StringVar(&a.flags.AtLeast, "at-least", "", "threshold of the exit status: stop, ask or note")
	cmd.Flags().BoolVar(&working, "working", false, "list the region's working")
	return cmd
}

// check reads and judges models. The status is the gravest of all.
func (a *app) check(ctx context.Context, args []string, o engine.Options) (found report.Run, status int, err error) {
	session, err := a.session()
	if err != nil {
		return found, 0, err
	}
	defer session.Close()
	sources, problems, list := a.models(args)
	found = report.Run{Problems: problems, List: list}
	if len(problems) > 0 {
		status = statusUnusable
	}
	o.Region, o.Today = a.settings.Region, today()
	for _, src := range sources {
		if o.Signed, err = signoff.Load(signoff.Path(src.File)); err != nil {
			return found, status, unusable{err}
		}
		if err := a.judge(ctx, session, src, o, &found, &status); err != nil {
			return found, status, err
		}
	}
	return found, status, nil
}

// judge checks one model and adds its result.
func (a *app) judge(ctx context.Context, session *engine.Session, src *engine.Source, o engine.Options, found *report.Run, status *int) error {
	run, err := session.Check(ctx, src, o)
	var packs pack.Problems
	if errors.As(err, &packs) {
		found.Problems = append(found.Problems, packProblems(packs)...)
		*status = statusUnusable
		return nil
	}
	if err != nil {
		return err
	}
	found.Results = append(found.Results, run.Result)
	*status = gravest(*status, run.Result.Status(finding.Severity(a.settings.AtLeast)))
	return nil
}

// packProblems is what is wrong with packs, as the report prints it.
func packProblems(problems pack.Problems) []report.Problem {
	out := make([]report.Problem, len(problems))
	for i, p := range problems {
		out[i] = report.Problem{Place: finding.Place{File: p.Place.File, Line: p.Place.Line, Column: p.Place.Column, Offset: -1},
			Message: p.Message, Action: p.Fix}
	}
	return out
}

// today is the date that sign-offs are held against; SOURCE_DATE_EPOCH is not read, since a passed date must not come back.
func today() string { return time.Now().Format(time.DateOnly) }
