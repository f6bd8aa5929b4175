package main

import (
	"bytes"

	"github.com/spf13/cobra"

	"example.com/scantling/engine"
	"example.com/scantling/engine/handover"
	"example.com/scantling/engine/loadpath"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/report/draw"
	"example.com/scantling/engine/report/trace"
)

func (a *app) traceCommand() *cobra.Command {
	var without bool
	cmd := &cobra.Command{
		Use:   "trace MODEL MARK",
		Short: "Follow the load of a member down, and what rests on it",
		Long: "Trace follows the load of a member, or of one piece by its name (J1#3), hop by hop to the ground, and lists all that\n" +
			"rests on it. With --without it says instead what changes when the member is taken out, what then hangs in the air,\n" +
			"and which members then serve nothing.\n\n" +
			"Exit status: 0 the way is listed; 2 the input or the call cannot be used; 3 the run is incomplete.",
		Args: cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			print, err := a.tracePrinter(a.format("text"), without)
			if err != nil {
				return err
			}
			return a.onModel(args[0], func(session *engine.Session, src *engine.Source) error {
				run := session.TakeDown(cmd.Context(), src, a.judging(engine.Options{}))
				if len(run.Incomplete()) > 0 {
					a.status = statusIncomplete
				}
				return a.print(func(w *bytes.Buffer) error { return print(w, run, args[1]) })
			})
		},
	}
	cmd.Flags().BoolVar(&without, "without", false, "what changes when the member is taken out")
	cmd.Flags().StringVar(&a.flags.Format, "format", "", "one of "+joined(traceFormats()))
	return cmd
}

// tracePrint follows a member's load and prints its way.
type tracePrint func(w *bytes.Buffer, run *engine.Run, name string) error

// tracePrinter is the printer of a format: text and data of what was traced, or a drawing of the frame with the way.
func (a *app) tracePrinter(format string, without bool) (tracePrint, error) {
	if without {
		printer, err := trace.Removals.Printer(format, a.options(false))
		return func(w *bytes.Buffer, run *engine.Run, name string) error {
			sheet, err := loadpath.Without(run, name)
			if err != nil {
				return unusable{err}
			}
			return printer.Print(w, *sheet)
		}, err
	}
	if format == "svg" || format == "dot" {
		printer, err := draw.Traces.Printer(format, a.options(false))
		return func(w *bytes.Buffer, run *engine.Run, name string) error {
			sheet, err := loadpath.Trace(run, name)
			if err != nil {
				return unusable{err}
			}
			return printer.Print(w, draw.Trace{Model: sheet.Model, Frame: handover.Drawn(run), Mark: sheet.Member.Mark})
		}, err
	}
	printer, err := trace.Formats.Printer(format, a.options(false))
	if err != nil {
		return nil, &report.UnknownFormat{Name: format, Known: traceFormats()}
	}
	return func(w *bytes.Buffer, run *engine.Run, name string) error {
		sheet, err := loadpath.Trace(run, name)
		if err != nil {
			return unusable{err}
		}
		return printer.Print(w, *sheet)
	}, nil
}

func traceFormats() []string { return []string{"dot", "json", "svg", "text"} }
