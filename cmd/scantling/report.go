package main

import (
	"bytes"
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"example.com/scantling/engine"
	"example.com/scantling/engine/report/page"
	"example.com/scantling/engine/signoff"
	"example.com/scantling/engine/wholefile"
)

func (a *app) reportCommand() *cobra.Command {
	var file string
	cmd := &cobra.Command{
		Use:   "report MODEL -o FILE",
		Short: "Make one page for the building authority and the engineer, to look at and to print",
		Long: "Report checks a model and makes one HTML page of all that came of it: what to do first, drawings with the load path of\n" +
			"every member, findings and working, the take-down, what must be seen before it is covered, sign-offs, assumptions and\n" +
			"rule packs. The page needs no network. FILE is written whole or not at all; - is the standard output.\n\n" +
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
			session, err := a.session()
			if err != nil {
				return err
			}
			defer session.Close()
			src, problems := a.one(args[0])
			if problems != nil {
				return a.refuse(problems)
			}
			p, err := a.page(cmd.Context(), session, src)
			if p == nil {
				return err
			}
			return a.write(file, func(w *bytes.Buffer) error { return printer.Print(w, *p) })
		},
	}
	cmd.Flags().StringVarP(&file, "output", "o", "", "file that the page is written to; - for the standard output")
	return cmd
}

// page checks a model for its page; nil where the packs cannot be used.
func (a *app) page(ctx context.Context, session *engine.Session, src *engine.Source) (*page.Page, error) {
	signed, err := signoff.Load(signoff.Path(src.File))
	if err != nil {
		return nil, unusable{err}
	}
	run, err := session.Check(ctx, src, engine.Options{Region: a.settings.Region, Working: true, Matrix: true, Signed: signed, Today: today()})
	if err != nil {
		return nil, a.packErrors(err)
	}
	if !run.Result.Summary.Complete {
		a.status = statusIncomplete
	}
	return run.Page(), nil
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
