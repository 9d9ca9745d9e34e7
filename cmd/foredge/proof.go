package main

import (
	"context"
	"flag"
)

func proofCommand() *command {
	return &command{
		name:  "proof",
		args:  "FILE... --card|--jig",
		most:  "[-o DIR]",
		short: "make what proves or holds a cover: a strip of card, a jig",
		long: "With --card the files NAME-card.svg and so on hold, for each row of holes, a strip with the\n" +
			"holes as they will be cut and the edges that locate them. Cut it from card, lay it on the\n" +
			"notebook's edges and see whether the holes meet the wire. A notch lies near the corner of head\n" +
			"and foredge, as the strip lies face up; for a cover that mirrors another turn it over, head up.\n\n" +
			"With --jig the files NAME-jig.svg and so on (NAME-jig-PANEL.svg if there are several panels)\n" +
			"hold a frame to cut in scrap that is fixed to the bed. Its opening is 0.2 mm larger than the\n" +
			"board, in all; push the board into its head corner at the left, which lies 20 mm from both edges\n" +
			"of the page. There NAME-inside.svg, run from the same origin, meets a board that was turned\n" +
			"like a page, its head still up.",
		setup: func(flags *flag.FlagSet) runner {
			var out outputFlags
			out.declare(flags)
			card := flags.Bool("card", false, "make the strip of card")
			jig := flags.Bool("jig", false, "make, for each panel, a frame that holds it at a known place")
			asJSON := flags.Bool("json", false, "report errors and warnings as JSON, on standard error")
			return func(ctx context.Context, t *terminal, args []string) int {
				opts, err := out.options()
				if err != nil {
					return t.fail(err)
				}
				switch {
				case *card && *jig:
					return t.fail(misused("make one, then the other", "--card and --jig are two proofs"))
				case !*card && !*jig:
					return t.fail(misused("foredge proof --card makes a strip of card, foredge proof --jig a frame", "no proof is named"))
				}
				opts.Card, opts.Jig = *card, *jig
				return build(ctx, t, args, opts, *asJSON)
			}
		},
	}
}
