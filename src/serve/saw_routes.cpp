#include <algorithm>

#include "answers/batch_json.h"
#include "answers/correct_answer.h"
#include "serve/routes.h"
#include "serve/set_ups_answer.h"
#include "serve/truing_asked.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

Reply set_ups_reply(Workbench& bench, const Call& call) {
  const auto batch = batch_asked(bench, call.asked("batch"), PlanAge::fresh);
  if (!batch) return problem_reply(batch.problem());
  return json_reply(set_ups_on_the_page(batch.value()));
}

Result<DrawingAsked> drawing_asked(const Call& call) {
  const auto step = number_asked(call, "step", 1, 1000, 0), cut = number_asked(call, "cut", 1, 1000, 0);
  if (!step) return step.problem();
  if (!cut) return cut.problem();
  if ((step.value() == 0) == (cut.value() == 0))
    return Problem{"missing_key", "step", "say what to draw: either \"step\" or \"cut\", counted from 1", ""};
  return DrawingAsked{call.asked("setup"), step.value(), cut.value()};
}

Reply drawing_reply(Workbench& bench, const Call& call) {
  const auto asked = drawing_asked(call);
  if (!asked) return problem_reply(asked.problem());
  const auto batch = batch_asked(bench, call.asked("batch"), PlanAge::at_hand);
  if (!batch) return problem_reply(batch.problem());
  const auto drawing = drawing_answer(*batch.value().plan, asked.value());
  return drawing ? json_reply(drawing.value()) : problem_reply(drawing.problem());
}

// Whether to write it down, who says so, and the newest entry of its kind that whoever asks has seen: so that what is
// sent twice, because the first reply was lost, is not written twice.
struct KeepAsked {
  bool keep = false;
  std::string by, note;
  std::optional<std::int64_t> after;
};
KeepAsked keep_given(const Given& body) {
  return {body.flag_or("keep", false), body.text_if("by").value_or(""), body.text_if("note").value_or(""),
          body.whole_if("after", 0, INT64_MAX)};
}

std::optional<Problem> written_since(const KeepAsked& asked, std::int64_t newest, const std::string& what) {
  if (!asked.keep || !asked.after || newest <= *asked.after) return {};
  return Problem{"changed_since", "after",
                 what + " has been written into the ledger since; look at it first. If it is this one, it is kept.",
                 ""};
}

Result<std::vector<KeptTruing>> truings_of(const BatchAsked& batch) {
  if (!batch.has_ledger()) return std::vector<KeptTruing>{};
  auto opened = Ledger::open(batch.ledger);
  if (!opened) return opened.problem();
  return opened.take().truings();
}

Result<Json> align_answer(const BatchAsked& batch, std::vector<Observation> readings, const KeepAsked& asked) {
  const TruingAnswer answer = truing_answer(batch.plan->batch, std::move(readings));
  Json j = truing_json(answer);
  j["report"] = truing_report(answer);
  j["kept"] = false;
  j["entry"] = nullptr;
  if (!asked.keep) return j;
  const auto before = truings_of(batch);
  if (!before) return before.problem();
  const std::int64_t newest = before.value().empty() ? 0 : before.value().back().id;
  if (auto problem = written_since(asked, newest, "A truing")) return *problem;
  const auto stored = keep_truing(batch.ledger, answer, asked.by, asked.note);
  if (!stored) return for_the_page(stored.problem());
  j["kept"] = true;
  j["entry"] = stored.value().id;
  return j;
}

Reply align_reply(Workbench& bench, const Call& call) {
  std::optional<Problem> wrong;
  const nlohmann::json given = without_empty(call.body);
  const Given body(given, wrong);
  const std::string name = body.text("batch");
  const KeepAsked asked = keep_given(body);
  body.only({"batch", "gaps", "over", "light", "u", "readings", "keep", "by", "note", "after"});
  if (wrong) return problem_reply(*wrong);
  const auto batch = batch_asked(bench, name, PlanAge::at_hand);
  if (!batch) return problem_reply(batch.problem());
  auto readings = observations_given(body, batch.value().plan->batch.shop.caliper);
  if (wrong) return problem_reply(*wrong);
  if (!readings) return problem_reply(readings.problem());
  const auto answer = align_answer(batch.value(), readings.take(), asked);
  return answer ? json_reply(answer.value()) : problem_reply(answer.problem());
}

Reply truing_reply(Workbench& bench, const Call& call) {
  const auto batch = batch_asked(bench, call.asked("batch"), PlanAge::fresh);
  if (!batch) return problem_reply(batch.problem());
  const auto done = truings_of(batch.value());
  if (!done) return problem_reply(done.problem());
  const BatchPlan& plan = *batch.value().plan;
  return json_reply({{"batch", batch.value().name},
                     {"looks", looks_json()},
                     {"known", setups_json(plan)["saw"]},
                     {"prepared", prepared_json(plan.batch)},
                     {"done", truings_json(done.value())},
                     {"caution",
                      "Unplug the saw before you touch the blade or a screw near it, and follow the "
                      "machine's manual."}});
}

// The newest leaf under the stop; 0: there is none.
Result<std::int64_t> newest_leaf(const BatchAsked& batch, const StopPlace& place) {
  const auto now = readings_now(batch, {place});
  if (!now) return now.problem();
  const auto& leaves = now.value().front().leaves;
  return leaves.empty() ? 0 : leaves.back().id;
}

Result<Json> correct_answer_given(const BatchAsked& batch, const StopPlace& place,
                                  const std::vector<std::string>& typed, const KeepAsked& asked) {
  const BatchPlan& plan = *batch.plan;
  const auto measured = measured_as_typed(plan, place, typed);
  if (!measured) return measured.problem();
  const auto newest = newest_leaf(batch, place);
  if (!newest) return newest.problem();
  if (auto problem = written_since(asked, newest.value(), "A leaf under this stop")) return *problem;
  const auto answer = correct_answer(plan, batch.ledger, place, measured.value());
  if (!answer) return answer.problem();
  Json j = correction_json(plan, answer.value());
  j["report"] = correction_report(plan, answer.value());
  j["kept"] = false;
  j["entry"] = nullptr;
  if (!asked.keep) return j;
  const auto stored = keep_correction(batch.ledger, answer.value(), asked.by, asked.note);
  if (!stored) return stored.problem();
  j["kept"] = stored.value().has_value();
  if (stored.value()) j["entry"] = stored.value()->id;
  return j;
}

Reply correct_reply(Workbench& bench, const Call& call) {
  std::optional<Problem> wrong;
  const nlohmann::json given = without_empty(call.body);
  const Given body(given, wrong);
  const std::string name = body.text("batch"), set_up = body.text("setup");
  const auto stop = static_cast<int>(body.whole("stop", 1, 1000));
  const std::vector<std::string> measured = body.texts_or_none("measured");
  const KeepAsked asked = keep_given(body);
  body.only({"batch", "setup", "stop", "measured", "keep", "by", "note", "after"});
  if (wrong) return problem_reply(*wrong);
  const auto batch = batch_asked(bench, name, PlanAge::fresh);
  if (!batch) return problem_reply(batch.problem());
  const auto place = find_stop(*batch.value().plan, set_up, stop);
  if (!place) return problem_reply(for_the_page(place.problem()));
  const auto answer = correct_answer_given(batch.value(), place.value(), measured, asked);
  return answer ? json_reply(answer.value()) : problem_reply(for_the_page(answer.problem()));
}

}  // namespace

std::vector<Route> saw_routes() {
  return {{"GET", "/api/setups", set_ups_reply},
          {"GET", "/api/setups/drawing", drawing_reply},
          {"POST", "/api/align", align_reply},
          {"GET", "/api/truing", truing_reply},
          {"POST", "/api/correct", correct_reply}};
}

}  // namespace stickwright
