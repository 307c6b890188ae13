// good_files.h - a shop and a batch in which every key is right, for tests that then spoil one of them.
#pragma once
#include <string>

namespace stickwright {

inline const std::string kGoodShop = R"toml(format = 1
name = "Test shop"
paper = "letter"
days_off = [2031-03-11, "2031-03-04"]

[blade]
kerf = "2.6 mm"
diameter = "10 in"
teeth = 80

[sled]
back_to_blade = "182.4 mm"
closest_stop = "16 mm"
square_stops = ["50.02 mm", "80.01 mm"]
mitered_blank = "170 mm"
clamp_side = "right"

[gauge_blocks]
set = "mm 47 (b)"
grade = "2"
missing = ["1.07 mm"]
within = "3 um"

[feeler_leaves]
leaves = ["0.10 mm", "0.05 mm"]

[caliper]
name = "micrometer"
resolution = "0.001 mm"
repeat = "0.004 mm"

[sticks]
shortest_tail = "110 mm"

[[rack]]
wood = "Cherry"
section = "16 mm"
length = "3 ft"
count = 8

[[rack]]
wood = "walnut"
length = "750 mm"
count = 20

[times]
set_up = "5 min"
stop = "3 min"
test_block = "5 min"
mill = "6 min"
cut = "20 s"
measure = "25 s"
glue = "90 s"
clamp = "40 min"
cure = "24 h"
clamps = 12
ease = "3 min"
fit = "12 min"
coats = 2
coat = "6 min"
drying = "0.5 d"

[[hours]]
day = "Saturday"
from = "08:30"
to = 12:30:00

[[hours]]
day = "Tuesday"
from = "18:30"
to = "21:30"
)toml";

inline const std::string kGoodBatch = R"toml(format = 1
name = "Test batch"
shop = "shop.toml"
stick = "16 mm"
start = 2031-02-25
due = "2031-04-05"
spares = "8 %"
spares_at_least = 2
tolerance = "0.05 mm"

[[puzzle]]
design = "star.toml"
copies = 10
woods = { arm = ["black cherry", "hard maple"], "long arm" = "walnut", "*" = "teak" }
block_woods = { arm = { "rhombic pyramid block" = "walnut" }, "*" = { "center block" = "holly" } }

[[puzzle]]
design = "../other/second.toml"
copies = 6
woods = { "*" = "cherry" }
)toml";

}  // namespace stickwright
