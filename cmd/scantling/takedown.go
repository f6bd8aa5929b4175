package main

import (
	"bytes"
	"fmt"

	"github.com/spf13/cobra"

	"example.com/scantling/engine"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/report/takedown"
	"example.com/scantling/model/schema"
)

func (a *app) takedownCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "takedown MODEL",
		Short: "List reactions, moments and what arrives at the ground",
		Long: "Takedown lists, one load case beside the other, what every member carries, what lands on it and what holds it up,\n" +
			"its moments, shears and deflections, then what arrives at the ground and whether that is all that was applied.\n\n" +
			"Exit status: 0 the list is made; 2 the input or the call cannot be used; 3 the run is incomplete.",
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			printer, err := takedown.Formats.Printer(a.format("text"), a.options(false))
			if err != nil {
				return err
			}
			return a.onModel(args[0], func(session *engine.Session, src *engine.Source) error {
				run := session.TakeDown(cmd.Context(), src, a.judging(engine.Options{Last: true}))
				sheet := takedown.Sheet{Model: run.Model(), Listing: *run.Listing()}
				for _, why := range run.Incomplete() {
					sheet.Listing.Notes = append(sheet.Listing.Notes, "Incomplete: "+why)
					a.status = statusIncomplete
				}
				return a.print(func(w *bytes.Buffer) error { return printer.Print(w, sheet) })
			})
		},
	}
	cmd.Flags().StringVar(&a.flags.Format, "format", "", "one of "+joined(takedown.Formats.Names()))
	return cmd
}

// refuse prints what is wrong with the input, as JSON where JSON was asked for, and ends with status 2.
func (a *app) refuse(problems []report.Problem) error {
	return a.print(func(w *bytes.Buffer) error { return a.refusal(w, problems) })
}

// refusal writes what refuse prints.
func (a *app) refusal(w *bytes.Buffer, problems []report.Problem) error {
	a.status = statusUnusable
	name := "text"
	if a.settings.Format == "json" {
		name = "json"
	}
	printer, err := report.Checks.Printer(name, a.options(false))
	if err != nil {
		return err
	}
	return printer.Print(w, report.Run{Problems: problems})
}

func (a *app) schemaCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "schema",
		Short: "Print the JSON Schema of the framing model",
		Args:  cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			_, err := fmt.Fprintf(a.out, "%s", schema.Text())
			return err
		},
	}
}
