package main

import (
	"bytes"
	"context"

	"github.com/spf13/cobra"

	"example.com/scantling/engine"
	"example.com/scantling/engine/report/size"
)

func (a *app) sizeCommand() *cobra.Command {
	var any, all bool
	cmd := &cobra.Command{
		Use:   "size MODEL MARK",
		Short: "Find what is stocked and meets every rule in a place",
		Long: "Size tries what is stocked in a member's place and lists what meets every rule there and everywhere below it,\n" +
			"lightest first, with why the next one down fails. The stock is that of --stock or of the settings, else what a\n" +
			"yard in the region commonly has; see --stock for its form.\n\n" +
			"The underside stays on its seats where the depth differs; a member that hangs from all its supports keeps its\n" +
			"top. Where the centres differ, the first and the last piece stay where they are, and as few stand evenly between\n" +
			"them as keep the spacing.\n\n" +
			"With --all, and without MARK, it lists the ten tightest and the ten slackest members instead.\n\n" +
			"Exit status: 0 something is offered; 1 nothing is; 2 the input or the call cannot be used; 3 the run is incomplete.",
		Args: func(cmd *cobra.Command, args []string) error {
			if all {
				return cobra.ExactArgs(1)(cmd, args)
			}
			return cobra.ExactArgs(2)(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if all {
				return a.rank(cmd.Context(), args[0])
			}
			return a.size(cmd.Context(), args[0], args[1], any)
		},
	}
	cmd.Flags().StringVar(&a.flags.Format, "format", "", "one of "+joined(size.Choices.Names()))
	cmd.Flags().StringVar(&a.flags.Stock, "stock", "", "stock list (YAML): - {section: 47x195, grade: [C16, C24], lengths: [4200, 4800], price: 4.10}")
	cmd.Flags().BoolVar(&any, "any", false, "try other materials than the member's own too")
	cmd.Flags().BoolVar(&all, "all", false, "list the ten tightest and the ten slackest members")
	return cmd
}

// size prints what could stand in one member's place.
func (a *app) size(ctx context.Context, file, mark string, any bool) error {
	printer, err := size.Choices.Printer(a.format("text"), a.options(false))
	if err != nil {
		return err
	}
	o := engine.SizeOptions{Options: a.judging(engine.Options{}), Any: any}
	if a.settings.Stock != "" {
		if o.Stock, err = readStock(a.settings.Stock); err != nil {
			return unusable{err}
		}
	}
	return a.onModel(file, func(session *engine.Session, src *engine.Source) error {
		c, err := session.Size(ctx, src, mark, o)
		if err != nil {
			return a.packErrors(err)
		}
		switch {
		case len(c.Incomplete) > 0:
			a.status = statusIncomplete
		case len(c.Offered) == 0:
			a.status = statusFindings
		}
		return a.print(func(w *bytes.Buffer) error { return printer.Print(w, c) })
	})
}

// rank prints how near to its limit each member is.
func (a *app) rank(ctx context.Context, file string) error {
	printer, err := size.Rankings.Printer(a.format("text"), a.options(false))
	if err != nil {
		return err
	}
	return a.onModel(file, func(session *engine.Session, src *engine.Source) error {
		r, err := session.Rank(ctx, src, a.judging(engine.Options{}))
		if err != nil {
			return a.packErrors(err)
		}
		if len(r.Incomplete) > 0 {
			a.status = statusIncomplete
		}
		return a.print(func(w *bytes.Buffer) error { return printer.Print(w, r) })
	})
}
