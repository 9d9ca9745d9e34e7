// Package adjust reconciles the readings of each bench, a notebook or a stock's
// thickness, by least squares weighted by their uncertainties, in which the
// bench's musts hold exactly.
//
// Start from [New] and call [Adjustments.Next] once for each bench. The values
// found are facts for the design; each carries how it moves with the parameters
// of its bench, from which [Adjustments.Uncertainty] works out the uncertainty
// of all that follows.
//
// A bench never sees the design or another bench. What its readings leave open
// stays unknown.
package adjust
