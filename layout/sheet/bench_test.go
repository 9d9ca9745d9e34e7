package sheet_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"foredge/eval/maybe"
	"foredge/lang/foretest"
	"foredge/layout/sheet"
)

// fetched are the 21 strips C1 to C7 as the public repository Oscar-Oliveira/OR-Datasets has them, in
// the folder that FOREDGE_STRIPS names; without it those of them that testdata has.
func fetched(b *testing.B) (all []strip) {
	dir := os.Getenv("FOREDGE_STRIPS")
	if dir == "" {
		return named(b, "C")
	}
	for i := range 21 {
		var in struct {
			Name    string
			Objects []struct{ Length, Height float64 }
			Items   []struct {
				Length, Height float64
				Demand         int
			}
		}
		foretest.Must(b, json.Unmarshal([]byte(foretest.Read(b, filepath.Join(dir, fmt.Sprint(i+1, ".json")))), &in))
		s := strip{name: in.Name, width: in.Objects[0].Length, length: in.Objects[0].Height}
		area := 0.0
		for _, it := range in.Items {
			s.parts = append(s.parts, sheet.Part{Name: s.name, Width: it.Length, Height: it.Height, Count: it.Demand})
			area += it.Length * it.Height * float64(it.Demand)
		}
		// One part of C7_3 is 24 by 5 in the published document and 14 by 5 in the copy.
		for i := range s.parts {
			if p := &s.parts[i]; area == s.width*s.length-50 && p.Width == 14 && p.Height == 5 {
				p.Width, area = 24, area+50
			}
		}
		foretest.Near(b, s.name+"'s area", area, s.width*s.length, 0)
		all = append(all, s)
	}
	return all
}

// named are the strips of testdata of one set.
func named(b *testing.B, set string) (all []strip) {
	for _, s := range stripsOf(b) {
		if strings.HasPrefix(s.name, set) {
			all = append(all, s)
		}
	}
	return all
}

// BenchmarkStrips lays the published strips and our own dissections, and reports by how much they are longer than the
// optimum, in percent and in the mean, with maxrects-packer beside them.
func BenchmarkStrips(b *testing.B) {
	for _, set := range []struct {
		name   string
		strips []strip
	}{{"C1 to C7", fetched(b)}, {"N1 to N9", named(b, "N")}, {"dissections", dissections()}} {
		for _, turns := range []sheet.Turns{sheet.QuarterTurn, sheet.AsDrawn} {
			name := set.name
			if turns == sheet.AsDrawn {
				name += ", not turned"
			}
			b.Run(name, func(b *testing.B) {
				sum := 0.0
				for b.Loop() {
					sum = 0
					for _, s := range set.strips {
						parts := s.turned(turns)
						band, err := sheet.Strip(context.Background(), parts, s.width, 0, sheet.Options{})
						foretest.Must(b, err)
						if wrong := checkBand(parts, s.width, 0, band); len(wrong) > 0 {
							b.Fatal(s.name, wrong)
						}
						b.Logf("%s: %.2f %%", s.name, 100*(band.Length/s.length-1))
						sum += band.Length/s.length - 1
					}
				}
				n := float64(len(set.strips))
				b.ReportMetric(100*sum/n, "%-excess")
				b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/n, "s/strip")
				if theirs, ok := maxrects(b, set.strips, turns == sheet.QuarterTurn); ok {
					b.ReportMetric(100*theirs, "%-maxrects")
				}
			})
		}
	}
}

// maxrects is the mean excess of maxrects-packer, whose node_modules folder FOREDGE_MAXRECTS names.
func maxrects(b *testing.B, strips []strip, turn bool) (mean float64, ok bool) {
	modules := os.Getenv("FOREDGE_MAXRECTS")
	if modules == "" {
		return 0, false
	}
	type one struct {
		Width float64      `json:"width"`
		Least float64      `json:"least"`
		Turn  bool         `json:"turn"`
		Rects [][2]float64 `json:"rects"`
	}
	var in []one
	for _, s := range strips {
		o := one{Width: s.width, Least: s.length, Turn: turn}
		for _, p := range s.parts {
			for range p.Count {
				o.Rects = append(o.Rects, [2]float64{p.Width, p.Height})
			}
		}
		in = append(in, o)
	}
	var lengths []float64
	foretest.Ask(b, exec.Command("node", "testdata/maxrects.mjs", filepath.Join(modules, "maxrects-packer", "dist", "maxrects-packer.mjs")), in, &lengths)
	for i, l := range lengths {
		mean += (l/strips[i].length - 1) / float64(len(strips))
	}
	return mean, true
}

// BenchmarkJobs lays jobs of more and more parts, all of another size.
func BenchmarkJobs(b *testing.B) {
	for _, n := range []int{200, 500, 1000, 2000} {
		b.Run(fmt.Sprint(n, " parts"), func(b *testing.B) {
			job := largeJob(n)
			var result *sheet.Result
			for b.Loop() {
				var err error
				result, err = sheet.Lay(context.Background(), job, sheet.Options{})
				foretest.Must(b, err)
			}
			if wrong := check(job, result); len(wrong) > 0 {
				b.Fatal(wrong)
			}
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			g := result.Groups[0]
			b.ReportMetric(float64(g.Sheets), "sheets")
			b.ReportMetric(100*g.Used, "%-used")
			b.ReportMetric(100*g.Gap(), "%-gap")
			b.ReportMetric(float64(m.Sys)/(1<<20), "MiB")
		})
	}
}

// largeJob has sheets of two sizes and a few offcuts.
func largeJob(n int) sheet.Job {
	r := rand.New(rand.NewPCG(uint64(n), 1))
	job := sheet.Job{Stocks: []sheet.Stock{
		{Name: "birch", Width: 600, Height: 400, Margin: 5, Spacing: 2, Price: maybe.Is(12.5)},
		{Name: "half", Width: 300, Height: 400, Margin: 5, Spacing: 2, Price: maybe.Is(7.0)},
		{Name: "offcut", Width: 210, Height: 180, Margin: 5, Spacing: 2, Offcut: true, Count: maybe.Is(6)},
	}}
	for i := range n {
		job.Parts = append(job.Parts, sheet.Part{Name: fmt.Sprint(i), Width: 20 + math.Round(180*r.Float64()), Height: 20 + math.Round(180*r.Float64()), Count: 1, Turns: sheet.QuarterTurn})
	}
	return job
}
