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
	"example.com/scantling/rules/pack"
)

// checking is one call of check.
type checking struct {
	inputCall
	working bool
	output  string
}

func (a *app) checkCommand() *cobra.Command {
	var c checking
	var watched bool
	cmd := &cobra.Command{
		Use:   "check MODEL...",
		Short: "Hold models against the rules and list what is found",
		Long: "Check holds framing models against the rule packs and lists what is not met, what must be asked, and what could\n" +
			"not be checked. MODEL is a file, a folder, or - for documents on the standard input.\n\n" +
			"With --built it judges the frame as built instead: a whole model, or a merge patch (RFC 7396) on MODEL. With --since\n" +
			"only what is new against an earlier JSON result counts for the exit status and is listed; models are told apart by\n" +
			"their file as the call names it. With --watch it checks again whenever something is saved that it reads.\n\n" +
			"Exit status: 0 nothing at or above the threshold; 1 findings; 2 the input or the call cannot be used;\n3 the run is incomplete.",
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			c.models = args
			if err := c.usable(); err != nil {
				return err
			}
			if watched {
				return a.watch(cmd, c.inputCall, a.checkTask(c))
			}
			return a.check(cmd.Context(), c)
		},
	}
	f := cmd.Flags()
	f.StringVar(&a.flags.Format, "format", "", "one of "+joined(report.Checks.Names()))
	f.StringVar(&a.flags.AtLeast, "at-least", "", "threshold of the exit status: stop, ask or note")
	f.StringVar(&c.built, "built", "", "the frame as built, judged instead of what was drawn")
	f.StringVar(&c.since, "since", "", "an earlier JSON result: only what is new against it counts")
	f.StringVarP(&c.output, "output", "o", "-", "file that the findings are written to, whole or not at all; - for the standard output")
	f.BoolVar(&watched, "watch", false, "check again on every save, until interrupted")
	f.BoolVar(&c.working, "working", false, "list the region's working under each of its findings; facts MODEL MARK lists that of any member")
	return cmd
}

// check reads and judges models, and prints what was found. The status is the gravest of all.
func (a *app) check(ctx context.Context, c checking) error {
	printer, err := a.checkPrinter(c)
	if err != nil {
		return err
	}
	session, err := a.session()
	if err != nil {
		return err
	}
	defer session.Close()
	shown := a.progress()
	defer shown.end()
	shown.at("reading", 0, 0)
	in, err := a.gather(c.inputCall)
	if err != nil {
		return err
	}
	found, err := a.judge(ctx, session, in, engine.Options{Working: c.working, Last: true}, shown)
	if err != nil {
		return err
	}
	shown.end()
	return a.write(c.output, func(w *bytes.Buffer) error { return printer.Print(w, found) })
}

// checkTask is a check that is done again and again.
func (a *app) checkTask(c checking) task {
	return func(ctx context.Context, session *engine.Session, in *inputs, w *bytes.Buffer) (sound bool, err error) {
		printer, err := a.checkPrinter(c)
		if err != nil {
			return true, err
		}
		found, err := a.judge(ctx, session, in, engine.Options{Working: c.working}, nil)
		if err != nil {
			return true, err
		}
		sound = true
		for _, r := range found.Results {
			sound = sound && len(r.Incomplete) == 0
		}
		if c.output == "-" {
			return sound, printer.Print(w, found)
		}
		return sound, a.write(c.output, func(w *bytes.Buffer) error { return printer.Print(w, found) })
	}
}

func (a *app) checkPrinter(c checking) (report.Printer[report.Run], error) {
	return report.Checks.Printer(a.format("text"), a.options(c.working))
}

// judge checks what was read, and sets the status. The options hold for each of it, but that Last is of the last.
func (a *app) judge(ctx context.Context, session *engine.Session, in *inputs, o engine.Options, shown *progress) (report.Run, error) {
	found := report.Run{Problems: in.problems, List: in.list}
	a.status = statusClean
	if len(in.problems) > 0 {
		a.status = statusUnusable
	}
	for i, src := range in.sources {
		shown.at(src.File, i, len(in.sources))
		each := a.judging(o)
		each.Signed, each.Today, each.Last = in.signed[i], today(), o.Last && i+1 == len(in.sources)
		run, err := session.Check(ctx, src, each)
		var packs pack.Problems
		if errors.As(err, &packs) {
			found.Problems = append(found.Problems, packProblems(packs)...)
			a.status = statusUnusable
			continue
		}
		if err != nil {
			return found, err
		}
		if in.since != nil {
			in.since.Hold(run.Result, formerRules(run.Set))
		}
		run.Result.AtLeast = finding.Severity(a.settings.AtLeast)
		finding.Count(run.Result)
		found.Results = append(found.Results, run.Result)
		a.status = gravest(a.status, run.Result.Status(run.Result.AtLeast))
	}
	return found, nil
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
