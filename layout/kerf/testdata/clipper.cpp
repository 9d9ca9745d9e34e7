// Offsets figures by the Clipper library, for comparison. Reads how far (in
// units) and how many figures there are, then each as its number of rings and
// each ring as its number of points and their coordinates in units. Prints the
// seconds that offsetting took, figure by figure and all at once, and the area
// that came out of each.
#include <chrono>
#include <cstdio>
#include <vector>
#include <polyclipping/clipper.hpp>

using namespace ClipperLib;

static double area(const Paths &paths) {
	double sum = 0;
	for (const auto &p : paths) sum += Area(p);
	return sum;
}

static double since(std::chrono::steady_clock::time_point t) {
	return std::chrono::duration<double>(std::chrono::steady_clock::now() - t).count();
}

int main() {
	double far;
	int figures;
	if (scanf("%lf %d", &far, &figures) != 2) return 1;
	std::vector<Paths> all(figures);
	for (auto &f : all) {
		int rings;
		if (scanf("%d", &rings) != 1) return 1;
		f.resize(rings);
		for (auto &ring : f) {
			int points;
			if (scanf("%d", &points) != 1) return 1;
			ring.resize(points);
			for (auto &p : ring) {
				long long x, y;
				if (scanf("%lld %lld", &x, &y) != 2) return 1;
				p = IntPoint(x, y);
			}
		}
	}
	double each = 0, eachArea = 0, once = 0, onceArea = 0;
	for (int round = 0; round < 3; round++) { // the best of three
		auto start = std::chrono::steady_clock::now();
		eachArea = 0;
		for (const auto &f : all) {
			ClipperOffset o(10);
			o.AddPaths(f, jtMiter, etClosedPolygon);
			Paths out;
			o.Execute(out, far);
			eachArea += area(out);
		}
		double took = since(start);
		if (round == 0 || took < each) each = took;
	}
	for (int round = 0; round < 3; round++) {
		auto start = std::chrono::steady_clock::now();
		ClipperOffset o(10);
		for (const auto &f : all) o.AddPaths(f, jtMiter, etClosedPolygon);
		Paths out;
		o.Execute(out, far);
		onceArea = area(out);
		double took = since(start);
		if (round == 0 || took < once) once = took;
	}
	printf("%.9g %.9g %.17g %.17g\n", each, once, eachArea, onceArea);
}
