package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"example.com/scantling/engine"
	"example.com/scantling/engine/finding"
	"example.com/scantling/model"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/rules/pack"
	"example.com/scantling/rules/pack/schema"
)

func (a *app) packCommand() *cobra.Command {
	cmd := &cobra.Command{Use: "pack", Short: "For those who write rules: vet, try, explain and start packs"}
	cmd.AddCommand(
		&cobra.Command{
			Use: "vet FILE...", Short: "List everything that is wrong with packs, with places", Args: cobra.MinimumNArgs(1),
			RunE: func(cmd *cobra.Command, args []string) error { return a.packVet(cmd.Context(), args) },
		},
		&cobra.Command{
			Use: "try [FILE...]", Short: "Run packs' own examples, and say what none of them reaches",
			Long: "Try runs the examples of the named packs; without a name, those of every pack that ships and of the house packs.",
			RunE: func(cmd *cobra.Command, args []string) error { return a.packTry(cmd.Context(), args) },
		},
		&cobra.Command{
			Use: "explain RULE", Short: "Say in prose what a rule means and where it comes from", Args: cobra.ExactArgs(1),
			RunE: func(cmd *cobra.Command, args []string) error { return a.packExplain(cmd.Context(), args[0]) },
		},
		&cobra.Command{
			Use: "new ID", Short: "Print a starter pack that vets and tries clean", Args: cobra.ExactArgs(1),
			RunE: func(_ *cobra.Command, args []string) error {
				text, err := pack.Starter(args[0])
				if err != nil {
					return err
				}
				_, err = fmt.Fprint(a.out, text)
				return err
			},
		},
		&cobra.Command{
			Use: "doc PACK", Short: "Print a pack's documentation in Markdown", Args: cobra.ExactArgs(1),
			RunE: func(cmd *cobra.Command, args []string) error { return a.packDoc(cmd.Context(), args[0]) },
		},
		&cobra.Command{
			Use: "schema", Short: "Print the JSON Schema of packs, for editors", Args: cobra.NoArgs,
			RunE: func(*cobra.Command, []string) error {
				_, err := fmt.Fprintf(a.out, "%s", schema.Pack)
				return err
			},
		},
	)
	return cmd
}

// withRules opens a session on extra packs and hands on its rules. Problems of packs are printed, with status 2.
func (a *app) withRules(ctx context.Context, extra []string, use func(*engine.Session, *pack.Set) error) error {
	a.settings.Packs = append(a.settings.Packs, extra...)
	session, err := a.session()
	if err != nil {
		return a.packErrors(err)
	}
	defer session.Close()
	set, _, err := session.Rules(ctx, a.settings.Region)
	if set == nil {
		return a.packErrors(err)
	}
	a.regionFailed(err)
	return use(session, set)
}

// packErrors prints what is wrong with packs, each with its caret.
func (a *app) packErrors(err error) error {
	var problems pack.Problems
	if !errors.As(err, &problems) {
		return err
	}
	a.status = statusUnusable
	for _, p := range problems {
		fmt.Fprintln(a.out, p.Error())
	}
	fmt.Fprintf(a.out, "\n%s\n", counted(len(problems), "problem"))
	return nil
}

func (a *app) packVet(ctx context.Context, files []string) error {
	session, err := a.session()
	if err != nil {
		return a.packErrors(err)
	}
	defer session.Close()
	err = session.Vet(ctx, a.settings.Region, files)
	if failure := (*host.Failure)(nil); errors.As(err, &failure) {
		a.regionFailed(failure)
		return nil
	}
	if err != nil {
		return a.packErrors(err)
	}
	for _, f := range files {
		fmt.Fprintf(a.out, "%s: no problems\n", f)
	}
	return nil
}

func (a *app) packTry(ctx context.Context, files []string) error {
	return a.withRules(ctx, files, func(_ *engine.Session, set *pack.Set) error {
		trial, err := set.Try(model.Metric)
		if err != nil {
			return a.packErrors(err)
		}
		only := func(r *pack.Rule) bool { return len(files) == 0 || r.Pack.Layer == pack.House }
		failed := 0
		for _, m := range trial.Failed {
			if only(m.Rule) {
				failed++
				fmt.Fprintln(a.out, m.Error())
			}
		}
		passed, missed := 0, 0
		for _, r := range set.Rules {
			if only(r) {
				passed += len(r.Examples)
			}
		}
		for _, u := range trial.Unreached {
			if only(u.Rule) {
				missed++
				fmt.Fprintln(a.out, u.Part.Error())
			}
		}
		fmt.Fprintf(a.out, "%s passed, %d failed; %s of the rules that no example reaches\n", counted(passed-failed, "example"), failed, counted(missed, "part"))
		if failed > 0 {
			a.status = gravest(a.status, statusFindings)
		}
		return nil
	})
}

func (a *app) packExplain(ctx context.Context, id string) error {
	return a.withRules(ctx, nil, func(_ *engine.Session, set *pack.Set) error {
		rule := set.Rule(id)
		if rule == nil {
			return unusablef("no rule is called %s; %s", id, orNear(set, id))
		}
		text := set.Explain(rule, model.Metric) + "\n" + finding.Caution
		for _, line := range strings.Split(text, "\n") {
			fmt.Fprintln(a.out, hanging(line))
		}
		return nil
	})
}

func (a *app) packDoc(ctx context.Context, id string) error {
	return a.withRules(ctx, nil, func(_ *engine.Session, set *pack.Set) error {
		for _, p := range set.Packs {
			if p.ID == id {
				_, err := fmt.Fprint(a.out, set.Doc(p, model.Metric))
				return err
			}
		}
		return unusablef("no pack is called %s", id)
	})
}

// orNear is the rule that may be meant, or the packs that there are.
func orNear(set *pack.Set, id string) string {
	if near := set.Nearest(id); near != "" {
		return "did you mean " + near + "?"
	}
	ids := make([]string, len(set.Packs))
	for i, p := range set.Packs {
		ids[i] = p.ID
	}
	return fmt.Sprintf("the packs are %s, and --region adds a region's own; `scantling pack doc PACK` lists the rules of one", joined(ids))
}

func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
