package main

import (
	"context"
	"flag"
)

func proofCommand() *command {
	return &command{
		name:  "proof",
		args:  "FILE... --card|--jig|--guide|--greys",
		most:  "[-o DIR]",
		short: "make what proves, holds or guides: a strip of card or of greys, a jig, a guide",
		long: "With --card the files NAME-card.svg and so on hold, for each row of holes, a strip with the\n" +
			"holes as they will be cut and the edges that locate them. Cut it from card, lay it on the\n" +
			"notebook's edges and see whether the holes meet the wire. A notch lies near the corner of head\n" +
			"and foredge, as the strip lies face up; for a cover that mirrors another turn it over, head up.\n\n" +
			"With --jig the files NAME-jig.svg and so on (NAME-jig-PANEL.svg if there are several panels)\n" +
			"hold a frame to cut in scrap that is fixed to the bed. Its opening is 0.2 mm larger than the\n" +
			"board, in all; push the board into its head corner at the left, which lies 20 mm from both edges\n" +
			"of the page. There NAME-inside.svg, run from the same origin, meets a board that was turned\n" +
			"like a page, its head still up.\n\n" +
			"With --guide the files NAME-guide.svg and so on hold, for each row of a panel or a notebook, a\n" +
			"strip through whose holes the same row is punched, drilled or pierced in other things. It lies\n" +
			"flush with the edge of the row and both its ends, has the notch of a card, and is cut from the\n" +
			"row's guide-stock.\n\n" +
			"With --greys the files NAME-greys.svg and so on hold, for each stock that pictures are engraved\n" +
			"on, each line-distance and each shade, a strip of eleven fields, from the bare board to where all\n" +
			"of it is engraved. Run it on a piece of the stock, measure how dark each field came out, and state\n" +
			"that as the stock's greys.",
		setup: func(flags *flag.FlagSet) runner {
			var out outputFlags
			out.declare(flags)
			card := flags.Bool("card", false, "make the strip of card")
			jig := flags.Bool("jig", false, "make, for each panel, a frame that holds it at a known place")
			guide := flags.Bool("guide", false, "make, for each row, the strip by which it is punched or drilled")
			greys := flags.Bool("greys", false, "make, for each stock that pictures are engraved on, a strip of greys to measure")
			asJSON := flags.Bool("json", false, "report errors and warnings as JSON, on standard error")
			return func(ctx context.Context, t *terminal, args []string) int {
				opts, err := out.options()
				if err != nil {
					return t.fail(err)
				}
				named := 0
				for _, one := range []bool{*card, *jig, *guide, *greys} {
					if one {
						named++
					}
				}
				switch {
				case named > 1:
					return t.fail(misused("make one, then the other", "--card, --jig, --guide and --greys are proofs of their own"))
				case named == 0:
					return t.fail(misused("foredge proof --card makes a strip of card, foredge proof --jig a frame, foredge proof --guide a guide, foredge proof --greys a strip of greys", "no proof is named"))
				}
				opts.Card, opts.Jig, opts.Guide, opts.Greys = *card, *jig, *guide, *greys
				return build(ctx, t, args, opts, *asJSON)
			}
		},
	}
}
