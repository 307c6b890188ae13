// shop.h - what a maker's shop has and how long its work takes, as written in the shop file. Keys: docs/files.md.
#pragma once
#include <chrono>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "quantity/quantity.h"
#include "quantity/result.h"
#include "shop/gluing_means.h"
#include "shop/jig.h"
#include "text/source.h"

namespace stickwright {

enum class Side { left, right };  // as the operator sees it, standing at the sled
enum class Paper { a4, letter };

struct Blade {
  Mm kerf;  // what the cut takes away: plate, set and run-out together, measured in wood
  Mm diameter;
  int teeth = 0;
  std::optional<Mm> plate;    // its thickness beside the teeth
  std::optional<Mm> run_out;  // whole swing of the rim sideways, in one turn
  std::optional<double> turns_per_minute;
  std::optional<MmPerSecond> feed;
};

struct Sled {
  Mm back_to_blade;  // back stop to blade plane, along the stick's axis; found once per blade change
  Place back_to_blade_at;
  Mm closest_stop;               // the blade plane comes no nearer to the face of a stop
  std::vector<Mm> square_stops;  // measured lengths of the square-ended stops that the shop owns
  Mm mitered_blank;              // length of a blank from which a mitered stop is cut
  Side clamp_side = Side::left;
  std::optional<Material> base_material, stop_material;
  std::optional<Mm> tilt_lever;  // width over which a leaf tilts the sled, or its table, against the blade
  std::string tilt_leaf_at;      // in the maker's words; may be empty
};

// Plain data: what the names mean is the business of the room `metrology`.
struct WornSize {
  Nm size, is;                     // as engraved, as measured
  std::optional<Nm> give_or_take;  // of the measurement
};

struct GaugeBox {
  std::string set;  // name of a set as it is sold; empty when `sizes` are given
  std::string grade;
  std::vector<Nm> sizes;    // a set of the shop's own
  std::vector<Nm> missing;  // lost or worn out
  std::vector<WornSize> worn;
  std::optional<Nm> within;  // how far a stack may miss its length
  Place set_at, grade_at, missing_at, worn_at;
};

struct Caliper {
  std::string name;
  Mm resolution;
  Mm repeat;  // 1 sigma of repeated readings of one block
};

struct RackStick {
  std::string wood;           // the species' own name
  std::optional<Mm> section;  // side of its square section when it is milled already
  Mm length;
  int count = 0;
  Place at;
};

// How long a step takes, and how long it only has to wait.
struct StepTimes {
  Seconds open_up, clear_up;  // per session: lights, extraction, warm-up; sweeping, covering
  Seconds true_saw;           // once per batch
  Seconds set_up, stop;       // per set-up; besides, per stop that is built up or made
  Seconds test_block;         // cut, measure and correct one
  Seconds mill;               // per stick, from rough to square
  Seconds cut, turn;          // per cut; per rolling of the stick to its next corner
  Seconds measure;            // per reading
  int measured_every = 1;     // one block in so many is measured
  Seconds glue, clamp, cure;  // per joint; waiting in the clamp; waiting before it is worked on
  int clamps = 1;             // glue-ups that can stand clamped at one time
  Seconds ease, fit;          // per piece; per puzzle
  int coats = 0;
  Seconds coat, drying;  // per puzzle and coat; waiting per coat
  Seconds pack;          // per puzzle
};

struct WorkingHours {
  std::chrono::weekday day;
  Seconds from, to;  // since midnight, from < to
};

struct Shop {
  std::string name;
  Paper paper = Paper::a4;
  Blade blade;
  Sled sled;
  GaugeBox gauge_blocks;
  std::vector<Nm> feeler_leaves;  // ascending
  Caliper caliper;
  std::vector<Material> materials;  // the maker's own
  std::vector<Cradle> cradles;
  std::optional<Air> air;
  Known known;
  std::optional<Square> square;
  GlueMeans glue;
  FitMeans fit;
  Mm shortest_tail;  // the last part of a stick is not cut when it is shorter
  std::vector<RackStick> rack;
  StepTimes times;
  std::vector<WorkingHours> hours;                    // by day of the week from Monday, then by hour; none overlap
  std::vector<std::chrono::year_month_day> days_off;  // ascending
  std::shared_ptr<const Source> source;               // for problem_at with the places kept above
};

//   errors   those of the reader (toml_reader.h); unknown_wood; bad_hours (from not before to, or overlapping);
//            bad_stop (longer than the way to the blade, or given twice); bad_gauge_blocks (no set, or two);
//            unknown_material; bad_material, bad_cradle (given twice; a clamp beside the cradle); bad_kerf (less than
//            plate and run-out)
Result<Shop> load_shop(const std::filesystem::path& path);
Result<Shop> parse_shop(std::string_view text, const std::string& file);

}  // namespace stickwright
