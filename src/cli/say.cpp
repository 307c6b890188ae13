#include "cli/say.h"

#include <fmt/core.h>

#include <cstdio>
#include <nlohmann/json.hpp>

#include "cli/exit_code.h"

namespace stickwright {

int tell(const Problem& p) {
  fmt::print(stderr, "{}{}{} [{}]\n", p.where, p.where.empty() ? "" : ": ", p.say, p.code);
  if (!p.excerpt.empty()) fmt::print(stderr, "{}{}", p.excerpt, p.excerpt.back() == '\n' ? "" : "\n");
  if (p.code == "stopped" || p.code == "cannot_write" || p.code == "locked" || p.code == "port_taken" ||
      p.code == "cannot_listen")
    return kNotFinished;
  return p.code == "not_enough_sticks" || p.code == "does_not_work" ? kAnswerIsNo : kBadInput;
}

void print_json(const nlohmann::ordered_json& document) {
  fmt::print("{}\n", document.dump(2));
}

}  // namespace stickwright
