package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"example.com/scantling/engine"
	"example.com/scantling/engine/changes"
	"example.com/scantling/engine/handover"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/report/page"
	"example.com/scantling/engine/signoff"
	"example.com/scantling/engine/wholefile"
)

func (a *app) reportCommand() *cobra.Command {
	var file, built string
	var watched bool
	cmd := &cobra.Command{
		Use:   "report MODEL -o FILE",
		Short: "Make one page to look at and to print",
		Long: "Report checks a model and makes one HTML page of all that came of it: what to do first, drawings with the load path of\n" +
			"every member, findings and working, the take-down, what must be seen before it is covered, sign-offs, assumptions and\n" +
			"rule packs. With --built it also lists what was built otherwise, and what that does. The page needs no network. FILE is\n" +
			"written whole or not at all; - is the standard output. With --watch it is written again whenever something is saved that\n" +
			"it is made of, and loads itself anew meanwhile.\n\n" +
			"Exit status: 0 the page is made, whatever it says; 2 the input or the call cannot be used; 3 the run is incomplete,\nwhich the page says at its top.",
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if file == "" {
				return unusablef("say with -o where the page goes")
			}
			printer, err := page.Formats.Printer("html", a.options(true))
			if err != nil {
				return err
			}
			if watched {
				return a.watchPage(cmd, inputCall{models: args, built: built}, file, printer)
			}
			return a.onModel(args[0], func(session *engine.Session, src *engine.Source) error {
				var asBuilt *engine.Source
				if built != "" {
					var problems []report.Problem
					if asBuilt, problems = a.built(src, built); problems != nil {
						return a.refuse(problems)
					}
				}
				p, err := a.page(cmd.Context(), session, src, asBuilt)
				if err != nil {
					return a.packErrors(err)
				}
				return a.write(file, func(w *bytes.Buffer) error { return printer.Print(w, *p) })
			})
		},
	}
	cmd.Flags().StringVarP(&file, "output", "o", "", "file that the page is written to; - for the standard output")
	cmd.Flags().StringVar(&built, "built", "", "the frame as built, to hold against the model: a whole model, or a merge patch on it")
	cmd.Flags().BoolVar(&watched, "watch", false, "write it again on every save, until interrupted")
	return cmd
}

// refresh is after how many seconds a watched page loads itself anew.
const refresh = 2

// watchPage writes the page on every save, and at the end once more as one that stays as it is. While the model cannot be
// used, the last page stands.
func (a *app) watchPage(cmd *cobra.Command, call inputCall, file string, printer report.Printer[page.Page]) error {
	if file == "-" {
		return unusablef("what goes to the standard output cannot be written again; name a file with -o")
	}
	var last *page.Page
	write := func() error {
		return a.write(file, func(w *bytes.Buffer) error { return printer.Print(w, *last) })
	}
	err := a.watch(cmd, call, func(ctx context.Context, session *engine.Session, in *inputs, w *bytes.Buffer) (bool, error) {
		a.status = statusClean
		src, problems := only(call.models[0], in.sources, in.problems)
		if problems != nil {
			return true, a.refusal(w, problems)
		}
		var built *engine.Source
		if in.drawn != nil {
			src, built = in.drawn, src
		}
		p, err := a.page(ctx, session, src, built)
		if err != nil {
			return true, err
		}
		last, p.Refresh = p, refresh
		fmt.Fprintf(w, "%s: %s\n", file, report.SummaryWords(p.Result.Summary))
		return len(p.Result.Incomplete) == 0, write()
	})
	if last != nil {
		last.Refresh = 0
		err = errors.Join(err, write())
	}
	return err
}

// page checks a model for its page, and holds what was built against it where that is not nil. The error may be of the
// packs.
func (a *app) page(ctx context.Context, session *engine.Session, src, built *engine.Source) (*page.Page, error) {
	signed, err := signoff.Load(signoff.Path(src.File))
	if err != nil {
		return nil, unusable{err}
	}
	run, err := session.Check(ctx, src, a.judging(engine.Options{Working: true, Matrix: true, Signed: signed, Today: today()}))
	if err != nil {
		return nil, err
	}
	if !run.Result.Summary.Complete {
		a.status = statusIncomplete
	}
	p := handover.Page(run)
	if built == nil {
		return p, nil
	}
	o := a.judging(engine.Options{Today: today()})
	if o.Signed, err = signoff.Load(signoff.Path(built.File)); err != nil {
		return nil, unusable{err}
	}
	c, err := changes.Compare(ctx, session, src, built, o)
	if err != nil {
		return nil, err
	}
	if !c.Result.Summary.Complete {
		a.status = statusIncomplete
	}
	p.Against = handover.Against(c)
	return p, nil
}

// write makes a file whole or not at all; - is the standard output.
func (a *app) write(file string, make func(*bytes.Buffer) error) error {
	if file == "-" {
		return a.print(make)
	}
	var b bytes.Buffer
	if err := make(&b); err != nil {
		return err
	}
	if err := wholefile.Write(file, b.Bytes()); err != nil {
		return unusable{fmt.Errorf("%s cannot be written: %w", file, err)}
	}
	return nil
}
