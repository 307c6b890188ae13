#include "serve/routes.h"
#include "serve/workbench.h"

namespace stickwright {
namespace {

Reply no_job(const std::string& id) {
  return problem_reply(
      {"no_job", id, "there is no such job any more: it was finished long ago, or the program was started anew", ""});
}

Reply look(Workbench& bench, const Call& call) {
  const std::string& id = call.slots.at("id");
  const auto found = bench.jobs().snapshot(id);
  return found ? json_reply(*found) : no_job(id);
}

Reply cancel(Workbench& bench, const Call& call) {
  const std::string& id = call.slots.at("id");
  return bench.jobs().cancel(id) ? json_reply({{"id", id}}) : no_job(id);
}

Reply follow(Workbench& bench, const Call& call) {
  const std::string& id = call.slots.at("id");
  bool over = false;
  const auto events = bench.jobs().events_after(id, call.after, 0, over);
  if (!events) return no_job(id);
  if (events->empty() && over) return {.status = 204};  // it has seen the end: a browser does not come back then
  return {.type = "text/event-stream", .stream = JobStream{id, call.after}};
}

}  // namespace

std::vector<Route> job_routes() {
  return {
      {"GET", "/api/jobs/{id}", look}, {"DELETE", "/api/jobs/{id}", cancel}, {"GET", "/api/jobs/{id}/events", follow}};
}

}  // namespace stickwright
