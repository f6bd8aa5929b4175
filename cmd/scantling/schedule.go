package main

import (
	"bytes"
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.com/scantling/engine"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/order"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/report/works"
	"example.com/scantling/engine/wholefile"
	"example.com/scantling/model"
	"example.com/scantling/model/cutting"
	"example.com/scantling/model/read"
	"example.com/scantling/model/sheet"
)

// scheduleFlags are what schedule is asked for.
type scheduleFlags struct {
	out, from, table string
	works            bool
}

// tablesShown are the tables that text prints; the others are for filling in.
var tablesShown = []string{"Cutting", "Ordering", "Plan"}

func (a *app) scheduleCommand() *cobra.Command {
	var s scheduleFlags
	cmd := &cobra.Command{
		Use:   "schedule [MODEL]",
		Short: "Print cutting and ordering lists, or the order of works",
		Long: "Schedule lists every piece with its true length, end cuts and weight, and the stock lengths to order with a plan of\n" +
			"how to cut them. As XLSX it also holds sheets to fill in: --from reads such a file back, making a model or updating\n" +
			"MODEL. --works lists what must be in before what is covered, with what to see and photograph.",
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return a.schedule(cmd, args, &s) },
	}
	f := cmd.Flags()
	f.StringVar(&a.flags.Format, "format", "", "text, csv or xlsx; with --works text or json")
	f.StringVarP(&s.out, "output", "o", "", "file that the lists are written to, whole or not at all, instead of printing them")
	f.StringVar(&s.from, "from", "", "a filled-in spreadsheet to make or update the model from")
	f.StringVar(&s.table, "table", "Cutting", "the table that CSV holds: "+joined(tablesShown)+", Model, Areas, Members or Supports")
	f.BoolVar(&s.works, "works", false, "list the order of works")
	return cmd
}

func (a *app) schedule(cmd *cobra.Command, args []string, s *scheduleFlags) error {
	if s.from != "" {
		return a.fromSheet(args, s)
	}
	if len(args) == 0 {
		return unusablef("schedule needs a model, or --from a filled-in spreadsheet")
	}
	return a.onModel(args[0], func(session *engine.Session, src *engine.Source) error {
		if s.works {
			return a.works(cmd, session, src, s)
		}
		run := session.TakeDown(cmd.Context(), src, a.judging(engine.Options{}))
		list := cutting.Make(src.Document, cutting.Options{Density: func(m *model.Member) float64 {
			return run.Down.Materials[src.Document.Index(m.Mark)].Density
		}})
		tables := sheet.Tables(src.Document, list)
		return a.deliver(s.out, func(w *bytes.Buffer) error {
			switch format := a.scheduleFormat(s); format {
			case "xlsx":
				return sheet.WriteXLSX(w, tables, finding.Caution)
			case "csv":
				t := sheet.Find(tables, s.table)
				if t == nil {
					return unusablef("no table is called %q; write %s, Model, Areas, Members or Supports", s.table, joined(tablesShown))
				}
				return sheet.WriteCSV(w, t, finding.Caution)
			case "text":
				return sheet.WriteText(w, slices.DeleteFunc(tables, func(t sheet.Table) bool { return !slices.Contains(tablesShown, t.Name) }), finding.Caution)
			default:
				return &report.UnknownFormat{Name: format, Known: []string{"csv", "text", "xlsx"}}
			}
		})
	})
}

// scheduleFormat is the format that is asked for, or that a file's name ends in.
func (a *app) scheduleFormat(s *scheduleFlags) string {
	for _, ending := range []string{"xlsx", "csv"} {
		if a.settings.Format == "" && strings.HasSuffix(s.out, "."+ending) {
			return ending
		}
	}
	return a.format("text")
}

// works lists the order of works and its hold points.
func (a *app) works(cmd *cobra.Command, session *engine.Session, src *engine.Source, s *scheduleFlags) error {
	printer, err := works.Formats.Printer(a.format("text"), a.options(false))
	if err != nil {
		return err
	}
	run, err := session.Check(cmd.Context(), src, a.judging(engine.Options{}))
	if err != nil {
		return a.packErrors(err)
	}
	return a.deliver(s.out, func(w *bytes.Buffer) error { return printer.Print(w, *order.Works(run)) })
}

// fromSheet makes a model from a filled-in spreadsheet, or updates one.
func (a *app) fromSheet(args []string, s *scheduleFlags) error {
	data, err := os.ReadFile(s.from)
	if err != nil {
		return unusable{err}
	}
	o := sheet.Options{}
	if len(args) > 0 {
		base, bad := read.File(args[0])
		if len(bad) > 0 {
			return a.refuse(printable(bad))
		}
		o.Base = &base
	}
	made, problems := sheet.Read(data, s.from, o)
	if len(problems) > 0 {
		list := make([]report.Problem, len(problems))
		for i, p := range problems {
			list[i] = report.Problem{Message: p.Error()}
		}
		return a.refuse(list)
	}
	if s.out == "" {
		_, err := a.out.Write(made.Text)
		return err
	}
	if err := wholefile.Write(s.out, made.Text); err != nil {
		return unusable{err}
	}
	_, err = fmt.Fprintf(a.out, "%s: %s new, %d changed, %d without a row and left as they are\n", s.out, counted(len(made.Added), "member"), len(made.Changed), len(made.Missing))
	return err
}

// deliver prints what was made, or writes it to a file whole or not at all.
func (a *app) deliver(file string, make func(*bytes.Buffer) error) error {
	if file == "" {
		return a.print(make)
	}
	if err := a.write(file, make); err != nil {
		return err
	}
	_, err := fmt.Fprintf(a.out, "written: %s\n", file)
	return err
}
