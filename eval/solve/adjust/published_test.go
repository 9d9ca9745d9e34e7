package adjust_test

import (
	"math"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/eval/solve/solvetest"
	"foredge/lang/foretest"
)

// digits checks that got agrees with a certified value to 9 significant digits.
func digits(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 0.5e-9*math.Abs(want)) {
		t.Errorf("%s = %.15g, certified %.15g", what, got, want)
	}
}

// fitLine enters y = B0 + B1 x1 + ... as readings of unknown coefficients, all
// with U = 1, and solves it.
func fitLine(y []float64, x ...[]float64) (*solvetest.Shop, *solve.Solution) {
	s := solvetest.NewShop()
	b := s.Bench("fit")
	s.V("fit.B0")
	for j := range x {
		s.Signed("fit.B" + string(rune('1'+j)))
	}
	s.Close(b)
	for i := range y {
		sum := []relation.Expr{s.V("fit.B0")}
		for j := range x {
			sum = append(sum, relation.Mul(relation.C(x[j][i]), s.V("fit.B"+string(rune('1'+j)))))
		}
		s.Readings = append(s.Readings, relation.Reading{Left: relation.Add(sum...), Bench: b, Value: y[i], U: 1})
	}
	return s, s.Solve()
}

// NIST Statistical Reference Datasets, linear regression, Norris (lower
// difficulty): certified values.
func TestNorris(t *testing.T) {
	x := []float64{0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5}
	y := []float64{0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2}
	s, sol := fitLine(y, x)
	b := sol.Benches[0]
	digits(t, "B0", s.Value(t, sol, "fit.B0"), -0.262323073774029)
	digits(t, "B1", s.Value(t, sol, "fit.B1"), 1.00211681802045)
	digits(t, "sd B0", b.Scale*sol.U[s.IDs["fit.B0"]], 0.232818234301152)
	digits(t, "sd B1", b.Scale*sol.U[s.IDs["fit.B1"]], 0.429796848199937e-3)
	digits(t, "residual sd", b.Scale, 0.884796396144373)
	digits(t, "SSE", b.ChiSquare, 26.6173985294224)
	if b.Freedom != 34 {
		t.Errorf("freedom %d, certified 34", b.Freedom)
	}
}

// NIST Statistical Reference Datasets, linear regression, Longley (higher
// difficulty): certified values.
func TestLongley(t *testing.T) {
	table := [][]float64{
		{60323, 61122, 60171, 61187, 63221, 63639, 64989, 63761, 66019, 67857, 68169, 66513, 68655, 69564, 69331, 70551},
		{83.0, 88.5, 88.2, 89.5, 96.2, 98.1, 99.0, 100.0, 101.2, 104.6, 108.4, 110.8, 112.6, 114.2, 115.7, 116.9},
		{234289, 259426, 258054, 284599, 328975, 346999, 365385, 363112, 397469, 419180, 442769, 444546, 482704, 502601, 518173, 554894},
		{2356, 2325, 3682, 3351, 2099, 1932, 1870, 3578, 2904, 2822, 2936, 4681, 3813, 3931, 4806, 4007},
		{1590, 1456, 1616, 1650, 3099, 3594, 3547, 3350, 3048, 2857, 2798, 2637, 2552, 2514, 2572, 2827},
		{107608, 108632, 109773, 110929, 112075, 113270, 115094, 116219, 117388, 118734, 120445, 121950, 123366, 125368, 127852, 130081},
		{1947, 1948, 1949, 1950, 1951, 1952, 1953, 1954, 1955, 1956, 1957, 1958, 1959, 1960, 1961, 1962},
	}
	s, sol := fitLine(table[0], table[1:]...)
	b := sol.Benches[0]
	for i, c := range []struct{ value, sd float64 }{
		{-3482258.63459582, 890420.383607373},
		{15.0618722713733, 84.9149257747669},
		{-0.358191792925910e-1, 0.334910077722432e-1},
		{-2.02022980381683, 0.488399681651699},
		{-1.03322686717359, 0.214274163161675},
		{-0.511041056535807e-1, 0.226073200069370},
		{1829.15146461355, 455.478499142212},
	} {
		name := "fit.B" + string(rune('0'+i))
		digits(t, name, s.Value(t, sol, name), c.value)
		digits(t, "sd "+name, b.Scale*sol.U[s.IDs[name]], c.sd)
	}
	digits(t, "residual sd", b.Scale, 304.854073561965)
	if b.Freedom != 9 {
		t.Errorf("freedom %d, certified 9", b.Freedom)
	}
}

// JCGM 100:2008 (GUM), example H.3: calibration of a thermometer. The line is
// fitted on the bench, and its value at 30 °C is a dimension of the design, so
// that the propagation of correlated values is that of every design.
func TestThermometer(t *testing.T) {
	temp := []float64{21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511}
	corr := []float64{-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160}
	s := solvetest.NewShop()
	b := s.Bench("fit")
	y1, y2 := s.Signed("fit.y1"), s.Signed("fit.y2")
	s.Close(b)
	for i := range temp {
		s.Readings = append(s.Readings, relation.Reading{
			Left:  relation.Add(y1, relation.Mul(relation.C(temp[i]-20), y2)),
			Bench: b, Value: corr[i], U: 1})
	}
	s.Fact(s.Signed("b30"), relation.Add(y1, relation.Mul(relation.C(10), y2)))
	sol := s.Solve()
	scale := sol.Benches[0].Scale
	u := func(name string) float64 { return scale * sol.U[s.IDs[name]] }
	foretest.Near(t, "y1", s.Value(t, sol, "fit.y1"), -0.1712037901, 1e-10)
	foretest.Near(t, "u(y1)", u("fit.y1"), 0.0028775978, 1e-10)
	foretest.Near(t, "y2", s.Value(t, sol, "fit.y2"), 0.0021826977, 1e-10)
	foretest.Near(t, "u(y2)", u("fit.y2"), 0.0006679388, 1e-10)
	foretest.Near(t, "s", scale, 0.0034975640, 1e-10)
	foretest.Near(t, "b(30)", s.Value(t, sol, "b30"), -0.1493768127, 1e-10)
	foretest.Near(t, "u(b(30))", u("b30"), 0.0041385958, 1e-10)
	// r(y1, y2) from u² of the sum at 10.
	r := (u("b30")*u("b30") - u("fit.y1")*u("fit.y1") - 100*u("fit.y2")*u("fit.y2")) / (2 * 10 * u("fit.y1") * u("fit.y2"))
	foretest.Near(t, "r(y1, y2)", r, -0.9304296, 1e-7)
}

// JCGM 100:2008 (GUM), example H.1: calibration of an end gauge, l = ls + d -
// ls (δα θ + αs δθ), in nm.
func TestEndGauge(t *testing.T) {
	s := solvetest.NewShop()
	b := s.Bench("in")
	in := func(name string, value, u float64) relation.Expr {
		e := s.Signed("in." + name)
		s.Readings = append(s.Readings, relation.Reading{Left: e, Bench: b, Value: value, U: u})
		return e
	}
	ls := in("ls", 50000623, 25)
	mean, random, systematic := in("mean", 215, 5.8), in("random", 0, 3.9), in("systematic", 0, 6.7)
	alpha := in("alpha", 11.5e-6, 2e-6/math.Sqrt(3))
	dalpha := in("dalpha", 0, 1e-6/math.Sqrt(3))
	theta := in("theta", -0.1, math.Hypot(0.2, 0.5/math.Sqrt2))
	dtheta := in("dtheta", 0, 0.05/math.Sqrt(3))
	s.Close(b)
	s.Eq(s.V("l"), relation.Minus(relation.Add(ls, mean, random, systematic),
		relation.Mul(ls, relation.Add(relation.Mul(dalpha, theta), relation.Mul(alpha, dtheta)))))
	sol := s.Solve()
	if !sol.OK() {
		t.Fatal(solvetest.Wrongs(s, sol))
	}
	foretest.Near(t, "l", s.Value(t, sol, "l"), 50000838, 0.5)
	foretest.Near(t, "u(l)", sol.U[s.IDs["l"]], 31.66, 0.005)
}

// JCGM 100:2008 (GUM), example H.2: resistance and reactance from five
// simultaneous observations. The means of V, I and φ are correlated; each
// observed set enters as readings that share the set's own errors, by way of
// three independent unknowns.
func TestResistance(t *testing.T) {
	obs := [][3]float64{{5.007, 19.663e-3, 1.0456}, {4.994, 19.639e-3, 1.0438}, {5.005, 19.640e-3, 1.0468}, {4.990, 19.685e-3, 1.0428}, {4.999, 19.678e-3, 1.0433}}
	var mean [3]float64
	for _, o := range obs {
		for k := range o {
			mean[k] += o[k] / 5
		}
	}
	var cov [3][3]float64
	for _, o := range obs {
		for i := range o {
			for j := range o {
				cov[i][j] += (o[i] - mean[i]) * (o[j] - mean[j]) / 20
			}
		}
	}
	// The covariance of the means as that of independent errors e: Cholesky.
	var l [3][3]float64
	for i := range 3 {
		for j := range i + 1 {
			sum := cov[i][j]
			for k := range j {
				sum -= l[i][k] * l[j][k]
			}
			if i == j {
				l[i][i] = math.Sqrt(sum)
			} else {
				l[i][j] = sum / l[j][j]
			}
		}
	}
	s := solvetest.NewShop()
	b := s.Bench("in")
	var e [3]relation.Expr
	for k := range e {
		e[k] = s.Signed("in.e" + string(rune('1'+k)))
		s.Readings = append(s.Readings, relation.Reading{Left: e[k], Bench: b, Value: 0, U: 1})
	}
	s.Close(b)
	for i, name := range []string{"V", "I", "phi"} {
		sum := []relation.Expr{relation.C(mean[i])}
		for k := range i + 1 {
			sum = append(sum, relation.Mul(relation.C(l[i][k]), e[k]))
		}
		s.Eq(s.V(name), relation.Add(sum...))
	}
	degrees := relation.Mul(relation.C(180/math.Pi), s.V("phi"))
	cos := func(e relation.Expr) relation.Expr { return relation.Expr{Op: relation.Cos, Args: []relation.Expr{e}} }
	z := relation.Div(s.V("V"), s.V("I"))
	s.Eq(s.V("R"), relation.Mul(z, cos(degrees)))
	s.Eq(s.V("X"), relation.Mul(z, cos(relation.Minus(relation.C(90), degrees)))) // the sine
	s.Eq(s.V("Z"), z)
	s.Eq(s.V("R+X"), relation.Add(s.V("R"), s.V("X")))
	s.Eq(s.V("X+Z"), relation.Add(s.V("X"), s.V("Z")))
	sol := s.Solve()
	u := func(name string) float64 { return sol.U[s.IDs[name]] }
	for _, c := range []struct {
		name     string
		value, u float64
	}{{"R", 127.73217, 0.071071}, {"X", 219.84651, 0.295582}, {"Z", 254.25970, 0.236336}} {
		foretest.Near(t, c.name, s.Value(t, sol, c.name), c.value, 1e-5)
		foretest.Near(t, "u("+c.name+")", u(c.name), c.u, 1e-6)
	}
	r := func(a, b, sum string) float64 {
		return (u(sum)*u(sum) - u(a)*u(a) - u(b)*u(b)) / (2 * u(a) * u(b))
	}
	foretest.Near(t, "r(R, X)", r("R", "X", "R+X"), -0.58843, 1e-5)
	foretest.Near(t, "r(X, Z)", r("X", "Z", "X+Z"), 0.99251, 1e-5)
}

// Adjustment with constraints, worked in closed form: three segments and their
// total, x = y - V A'(A V A')⁻¹ (A y), A = (1 1 1 -1).
func TestSegmentsAndTotal(t *testing.T) {
	y := []float64{80.03, 80.00, 80.02, 240.12}
	build := func(rho float64) (*solvetest.Shop, *solve.Solution) {
		s := solvetest.NewShop()
		b := s.Bench("log")
		names := []string{"log.a", "log.b", "log.c", "log.total"}
		s.Own(relation.Add(s.V("log.a"), s.V("log.b"), s.V("log.c")), s.V("log.total"))
		offset := relation.C(0)
		if rho > 0 {
			offset = s.Signed("log.offset")
			s.Readings = append(s.Readings, relation.Reading{Left: offset, Bench: b, Value: 0, U: 0.02 * math.Sqrt(rho)})
		}
		for i, n := range names {
			left, u := relation.Add(s.V(n), offset), 0.02*math.Sqrt(1-rho)
			if i == 3 {
				left, u = s.V(n), 0.03
			}
			s.Readings = append(s.Readings, relation.Reading{Left: left, Bench: b, Value: y[i], U: u})
		}
		s.Close(b)
		return s, s.Solve()
	}
	s, sol := build(0)
	for i, want := range []float64{80.043333333333, 80.013333333333, 80.033333333333, 240.09} {
		foretest.Near(t, s.Vars[i].Name, sol.Values[i], want, 1e-9)
	}
	foretest.Near(t, "u(a)", sol.U[0], 0.0179947, 5e-8)
	foretest.Near(t, "u(total)", sol.U[3], 0.0226779, 5e-8)
	foretest.Near(t, "chi-square", sol.Benches[0].ChiSquare, 2.33333333333, 1e-9)
	if b := sol.Benches[0]; b.Freedom != 1 || len(b.Suspects) != 0 {
		t.Errorf("%+v", b)
	}
	foretest.Near(t, "chi-square limit", sol.Benches[0].Limit95, 3.8415, 5e-5)

	s, sol = build(0.5)
	for i, want := range []float64{80.04696970, 80.01696970, 80.03696970, 240.10090909} {
		foretest.Near(t, s.Vars[i].Name, sol.Values[i], want, 1e-8)
	}
	foretest.Near(t, "chi-square", sol.Benches[0].ChiSquare, 1.484848, 1e-6)
}

// A reading that is no measurement, or of no bench, has no say.
func TestReadingsWithoutSense(t *testing.T) {
	for name, spoil := range map[string]func(r *relation.Reading){
		"of no bench":                func(r *relation.Reading) { r.Bench = 0 },
		"of a bench there isn't":     func(r *relation.Reading) { r.Bench = 2 },
		"no number":                  func(r *relation.Reading) { r.Value = math.NaN() },
		"without end":                func(r *relation.Reading) { r.Value = math.Inf(1) },
		"without uncertainty":        func(r *relation.Reading) { r.U = 0 },
		"uncertain by no number":     func(r *relation.Reading) { r.U = math.NaN() },
		"uncertain by next to none":  func(r *relation.Reading) { r.U = 1e-310 },
		"of a dimension there isn't": func(r *relation.Reading) { r.Left = relation.V(99) },
	} {
		s := solvetest.NewShop()
		b := s.Bench("log")
		s.Id("log.width")
		s.Close(b)
		s.Read(b, s.V("log.width"), 0.03, 148.2)
		spoil(&s.Readings[s.Read(b, s.V("log.width"), 0.03, 150)])
		sol := s.Solve()
		foretest.Near(t, name, s.Value(t, sol, "log.width"), 148.2, 1e-9)
		if n := len(sol.Benches[0].Readings); n != 1 {
			t.Errorf("%s: %d readings were adjusted, want 1", name, n)
		}
	}
}
