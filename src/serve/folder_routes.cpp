#include <fmt/core.h>

#include <algorithm>

#include "serve/own_names.h"
#include "serve/routes.h"
#include "serve/workbench.h"
#include "text/toml_reader.h"

namespace stickwright {
namespace {

namespace fs = std::filesystem;
using nlohmann::ordered_json;

struct FolderList {
  ordered_json designs = ordered_json::array(), batches = ordered_json::array(), shops = ordered_json::array();
  ordered_json truings = ordered_json::array(), broken = ordered_json::array();
};

std::string named_in(const Folder& folder, const std::string& file, const std::string& text) {
  return folder.name_of((folder.root() / file).parent_path().append(text).lexically_normal());
}

ordered_json batch_in_list(const Folder& folder, const std::string& file, const Table& root) {
  ordered_json designs = ordered_json::array();
  for (const Table& puzzle : root.tables_or_none("puzzle")) {
    const std::string text = puzzle.text_or("design", "");
    if (!text.empty()) designs.push_back(named_in(folder, file, text));
  }
  const std::string shop = root.text_or("shop", "");
  return {{"file", file},
          {"name", root.text_or("name", file)},
          {"designs", designs},
          {"shop", shop.empty() ? "" : named_in(folder, file, shop)}};
}

// Each kind of file has a table that no other has. What has none of them is not ours.
void add_to_list(FolderList& list, const Folder& folder, const std::string& file) {
  const auto read = read_toml(folder.root() / file);
  if (!read) {
    const Problem p = folder.shown(read.problem());
    list.broken.push_back(
        {{"file", file}, {"code", p.code}, {"where", p.where}, {"say", p.say}, {"excerpt", p.excerpt}});
    return;
  }
  const Table root = read.value().root();
  if (root.has("piece"))
    list.designs.push_back(
        {{"file", file}, {"name", root.text_or("name", file)}, {"family", root.text_or("family", "")}});
  else if (root.has("puzzle"))
    list.batches.push_back(batch_in_list(folder, file, root));
  else if (root.has("blade"))
    list.shops.push_back({{"file", file}, {"name", root.text_or("name", file)}});
  else if (root.has("reading"))
    list.truings.push_back({{"file", file}});
}

Reply list_folder(Workbench& bench, const Call&) {
  const Folder& folder = bench.folder();
  const std::string version = folder.fingerprint(false);
  FolderList list;
  for (const std::string& file : folder.toml_files()) add_to_list(list, folder, file);
  return json_reply({{"name", folder.root().filename().string()},
                     {"designs", list.designs},
                     {"batches", list.batches},
                     {"shops", list.shops},
                     {"truings", list.truings},
                     {"broken", list.broken},
                     {"lan", bench.network().pairing != nullptr},
                     {"version", version}});
}

Reply read_file(Workbench& bench, const Call& call) {
  const std::string name = call.asked("name");
  const auto text = bench.folder().read(name);
  if (!text) return problem_reply(text.problem());
  return json_reply({{"name", name}, {"text", text.value()}, {"version", version_of(text.value())}});
}

Reply only_desk() {
  return problem_reply(
      {"only_desk", "", "the code is shown at the desk only, on the machine that the workbench runs on", ""});
}

Reply not_lan() {
  return problem_reply(
      {"not_lan", "", "the workbench is open to this machine only; start it with --lan for a phone", ""});
}

ordered_json shown_json(const Network& network, const Pairing::Shown& shown) {
  ordered_json addresses = ordered_json::array();
  for (const std::string& address : own_addresses())
    addresses.push_back(fmt::format("http://{}:{}", address, network.port));
  return {{"lan", true},
          {"addresses", addresses},
          {"code", shown.code},
          {"expires_s", shown.expires_s},
          {"paired", shown.paired}};
}

Reply show_pairing(Workbench& bench, const Call& call) {
  if (!call.desk) return only_desk();
  const Network& network = bench.network();
  if (network.pairing) return json_reply(shown_json(network, network.pairing->shown()));
  return json_reply(
      {{"lan", false}, {"addresses", ordered_json::array()}, {"code", ""}, {"expires_s", 0}, {"paired", 0}});
}

Reply renew_pairing(Workbench& bench, const Call& call) {
  if (!call.desk) return only_desk();
  const Network& network = bench.network();
  return network.pairing ? json_reply(shown_json(network, network.pairing->renew())) : not_lan();
}

Reply forget_devices(Workbench& bench, const Call& call) {
  if (!call.desk) return only_desk();
  const Network& network = bench.network();
  if (!network.pairing) return not_lan();
  network.pairing->forget_all();
  return json_reply(shown_json(network, network.pairing->shown()));
}

Reply is_pairing_needed(Workbench&, const Call& call) {
  return json_reply({{"needed", !call.desk && !call.paired}});
}

Reply pair(Workbench& bench, const Call& call) {
  const Network& network = bench.network();
  if (!network.pairing) return not_lan();
  const auto code = call.body.is_object() ? call.body.find("code") : call.body.end();
  if (code == call.body.end() || !code->is_string())
    return problem_reply({"bad_request", "code", "expected {\"code\": \"123456\"}", ""});
  const auto token = network.pairing->pair(code->get<std::string>());
  if (!token) return problem_reply(token.problem());
  Reply reply = json_reply({{"paired", true}});
  reply.headers.emplace_back("Set-Cookie", fmt::format("token={}; HttpOnly; SameSite=Strict; Path=/; Max-Age={}",
                                                       token.value(), kTokenLives.count()));
  return reply;
}

}  // namespace

std::vector<Route> folder_routes() {
  return {{"GET", "/api/folder", list_folder},
          {"GET", "/api/file", read_file},
          {"GET", "/api/pairing", show_pairing},
          {"POST", "/api/pairing/renew", renew_pairing},
          {"DELETE", "/api/pairing", forget_devices},
          {"GET", "/api/pairing/needed", is_pairing_needed},
          {"POST", "/api/pair", pair}};
}

}  // namespace stickwright
