# How likely the range of n standard normal values is wider than w, by SciPy.
import json
import sys

from scipy.stats import studentized_range

print(json.dumps([float(studentized_range.sf(c["w"], c["n"], float("inf"))) for c in json.load(sys.stdin)]))
