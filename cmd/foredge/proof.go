package main

import (
	"context"
	"flag"
)

func proofCommand() *command {
	return &command{
		name:  "proof",
		args:  "FILE... --card",
		most:  "[-o DIR]",
		short: "make a strip of card that proves the holes before wood is cut",
		long: "With --card the files NAME-card.svg and so on hold, for each row of holes, a strip with the\n" +
			"holes as they will be cut and the edges that locate them. Cut it from card, lay it on the\n" +
			"notebook's edges and see whether the holes meet the wire.",
		setup: func(flags *flag.FlagSet) runner {
			var out outputFlags
			out.declare(flags)
			card := flags.Bool("card", false, "make the strip of card")
			asJSON := flags.Bool("json", false, "tell of errors and warnings as JSON, on standard error")
			return func(ctx context.Context, t *terminal, args []string) int {
				opts, err := out.options()
				if err != nil {
					return t.fail(err)
				}
				if !*card {
					return t.fail(misused("the proof there is so far is foredge proof --card", "no proof is named"))
				}
				opts.Card = true
				return build(ctx, t, args, opts, *asJSON)
			}
		},
	}
}
