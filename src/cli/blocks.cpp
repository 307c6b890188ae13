#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include "answers/design_json.h"
#include "answers/design_report.h"
#include "batch/shapes_cut.h"
#include "cli/exit_code.h"
#include "cli/say.h"
#include "cli/verbs.h"
#include "design/design_file.h"

namespace stickwright {

int blocks_verb(const Options& options) {
  auto design = load_design(options.file);
  if (!design) return tell(design.problem());
  if (design.value().family != &mitered())
    return tell({"wrong_family", options.file,
                 "only mitered pieces are glued from blocks; notched ones are single sticks.", ""});
  const std::vector<MadePiece> made = made_pieces(design.value());
  const Split split = split_with_grain(made);
  if (options.json)
    print_json(blocks_json(made, split, 0, 0));
  else
    fmt::print("{}", blocks_report(made, split, 0));
  return split.verdict == Verdict::found ? kDone : kNotFinished;
}

}  // namespace stickwright
