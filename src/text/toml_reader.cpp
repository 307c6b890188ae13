#include "text/toml_reader.h"

#include <fmt/core.h>

#include <algorithm>
#include <fstream>
#include <map>

#include "text/nearest.h"
#include "text/toml_kinds.h"
#include "text/toml_node.h"

namespace stickwright {
namespace {

struct Lack {
  std::string key, say;
};

// What was asked of one table.
struct Asked {
  std::vector<std::string> keys;
  std::vector<Lack> lacks;
};

}  // namespace

struct TomlReading {
  std::shared_ptr<const Source> source;
  TomlNode root;
  std::map<const TomlNode*, Asked> asked;
  std::optional<Problem> first;
  Place first_at;

  void note(Place at, std::string code, std::string say) {
    if (first && first_at <= at) return;
    first_at = at;
    first = problem_at(*source, at, std::move(code), std::move(say));
  }
};

namespace {

std::string allowed_keys(const TomlNode& table, const Asked& asked) {
  if (asked.keys.empty()) return fmt::format("{} takes no keys", table.name);
  return fmt::format("{} takes the keys {}", table.name, quoted_list(asked.keys, "and"));
}

void note_unknown_keys(TomlReading& reading, const TomlNode& table, const Asked& asked) {
  bool any = false;
  for (const TomlEntry& e : table.entries) {
    if (std::find(asked.keys.begin(), asked.keys.end(), e.key) != asked.keys.end()) continue;
    any = true;
    reading.note(e.at, "unknown_key",
                 fmt::format("there is no key \"{}\" here{}; {}", e.key, did_you_mean(e.key, asked.keys),
                             allowed_keys(table, asked)));
  }
  if (any || asked.lacks.empty()) return;
  reading.note(table.at, "missing_key", asked.lacks.front().say);
}

// In file order, so that of problems at one place always the same one is told.
void note_tables(TomlReading& reading, const TomlNode& node) {
  if (const auto at = reading.asked.find(&node); at != reading.asked.end())
    note_unknown_keys(reading, node, at->second);
  for (const TomlEntry& e : node.entries) note_tables(reading, e.value);
  for (const TomlNode& item : node.items) note_tables(reading, item);
}

Result<std::string> file_text(const std::filesystem::path& path) {
  std::error_code ignored;
  if (!std::filesystem::exists(path, ignored)) return Problem{"no_file", path.string(), "there is no such file", ""};
  if (std::filesystem::is_directory(path, ignored))
    return Problem{"no_file", path.string(), "this is a folder; a file is needed", ""};
  std::ifstream in(path, std::ios::binary);
  std::string text(kMaxTomlBytes + 1, '\0');
  if (in) in.read(text.data(), static_cast<std::streamsize>(text.size()));
  if (!in.eof() && in.fail()) return Problem{"no_file", path.string(), "this file cannot be read", ""};
  text.resize(static_cast<std::size_t>(in.gcount()));
  return text;
}

}  // namespace

// ---- asking ----

const TomlNode* Table::ask(std::string_view key) const {
  if (!node_) return nullptr;
  Asked& asked = reading_->asked[node_];
  if (std::find(asked.keys.begin(), asked.keys.end(), key) == asked.keys.end()) asked.keys.emplace_back(key);
  const TomlEntry* entry = node_->entry(key);
  return entry ? &entry->value : nullptr;
}

const TomlNode* Table::ask(std::string_view key, bool required, const std::string& expected) const {
  const TomlNode* found = ask(key);
  if (!found && node_ && required)
    reading_->asked[node_].lacks.push_back(
        {std::string(key), fmt::format("{} needs the key \"{}\": {}", node_->name, key, expected)});
  return found;
}

bool Table::has(std::string_view key) const {
  return ask(key) != nullptr;
}

Place Table::place() const {
  return node_ ? node_->at : Place{};
}

Place Table::place(std::string_view key) const {
  const TomlEntry* entry = node_ ? node_->entry(key) : nullptr;
  return entry ? entry->value.at : place();
}

Place Table::place(std::string_view key, std::size_t index) const {
  const TomlEntry* entry = node_ ? node_->entry(key) : nullptr;
  return entry && index < entry->value.items.size() ? entry->value.items[index].at : place(key);
}

Place Table::key_place(std::string_view key) const {
  const TomlEntry* entry = node_ ? node_->entry(key) : nullptr;
  return entry ? entry->at : place();
}

// ---- problems ----

void Table::report(Place at, std::string code, std::string say) const {
  if (node_) reading_->note(at, std::move(code), std::move(say));
}

void Table::report(std::string_view key, std::string code, std::string say) const {
  report(place(key), std::move(code), std::move(say));
}

void Table::report(std::string_view key, std::size_t index, std::string code, std::string say) const {
  report(place(key, index), std::move(code), std::move(say));
}

Problem Table::problem_at(std::string_view key, std::string code, std::string say) const {
  if (!node_) return {std::move(code), "", std::move(say), ""};
  return stickwright::problem_at(*reading_->source, place(key), std::move(code), std::move(say));
}

Problem Table::problem_at(std::string_view key, std::size_t index, std::string code, std::string say) const {
  if (!node_) return {std::move(code), "", std::move(say), ""};
  return stickwright::problem_at(*reading_->source, place(key, index), std::move(code), std::move(say));
}

void Table::format(std::int64_t newest) const {
  const TomlNode* node = ask("format", true, fmt::format("write \"format = {}\" in the first line", newest));
  if (!node) return;
  const std::string expected = fmt::format("format: expected format = {}", newest);
  if (node->kind != TomlNode::Kind::whole)
    report(node->at, "wrong_type", fmt::format("{}, found {}", expected, found(*node)));
  else if (node->whole != newest)
    report(node->at, "bad_format",
           fmt::format("{}, found {}: this file is of a kind that this program does not know", expected, node->whole));
}

// ---- tables ----

Table Table::table(std::string_view key) const {
  if (node_) ask(key, true, fmt::format("write a table [{}]", key));
  return table_if(key);
}

Table Table::table_if(std::string_view key) const {
  const TomlNode* node = ask(key);
  if (node && node->kind != TomlNode::Kind::table) {
    report(node->at, "wrong_type", fmt::format("{}: expected a table [{}], found {}", key, key, found(*node)));
    node = nullptr;
  }
  return {reading_, node};
}

std::vector<Table> Table::tables(std::string_view key, bool required) const {
  std::vector<Table> result;
  const TomlNode* node = ask(key, required, fmt::format("write one table [[{}]] or more", key));
  if (!node) return result;
  if (node->kind != TomlNode::Kind::list)
    report(node->at, "wrong_type",
           fmt::format("{}: expected tables [[{}]] in two pairs of brackets, found {}", key, key, found(*node)));
  else if (required && node->items.empty())
    report(node->at, "bad_count", fmt::format("{}: expected at least one table [[{}]]", key, key));
  for (const TomlNode& item : node->items) {
    if (item.kind == TomlNode::Kind::table)
      result.push_back({reading_, &item});
    else
      report(item.at, "wrong_type", fmt::format("{}: expected a table, found {}", key, found(item)));
  }
  return result;
}

std::vector<Table> Table::tables(std::string_view key) const {
  return tables(key, true);
}

std::vector<Table> Table::tables_or_none(std::string_view key) const {
  return tables(key, false);
}

std::vector<std::string> Table::keys() const {
  std::vector<std::string> result;
  if (!node_) return result;
  for (const TomlEntry& e : node_->entries) {
    result.push_back(e.key);
    ask(e.key);
  }
  return result;
}

std::size_t Table::exactly_one_of(std::initializer_list<std::string_view> names) const {
  const std::vector<std::string> all(names.begin(), names.end());
  std::vector<std::size_t> there;
  for (std::size_t i = 0; i < all.size(); ++i)
    if (has(all[i])) there.push_back(i);
  if (!node_) return 0;
  if (there.empty())
    reading_->asked[node_].lacks.push_back(
        {all.front(), fmt::format("{} needs exactly one of the keys {}", node_->name, quoted_list(all))});
  if (there.size() > 1)
    report(key_place(all[there[1]]), "too_many_keys",
           fmt::format("{} takes only one of the keys {}; leave out \"{}\" or \"{}\"", node_->name, quoted_list(all),
                       all[there[0]], all[there[1]]));
  return there.empty() ? 0 : there.front();
}

// ---- document ----

Table Document::root() const {
  return {reading_, &reading_->root};
}

const std::string& Document::file() const {
  return reading_->source->file;
}

std::shared_ptr<const Source> Document::source() const {
  return reading_->source;
}

bool Document::sound() const {
  return !reading_->first && std::all_of(reading_->asked.begin(), reading_->asked.end(),
                                         [](const auto& table) { return table.second.lacks.empty(); });
}

std::optional<Problem> Document::finish() const {
  note_tables(*reading_, reading_->root);
  return reading_->first;
}

Result<Document> read_toml(const std::filesystem::path& path) {
  const auto text = file_text(path);
  if (!text) return text.problem();
  if (text.value().size() > kMaxTomlBytes)
    return Problem{"bad_toml", path.string(), "this file is larger than 4 MB; it cannot be one of the maker's files",
                   ""};
  return parse_toml(text.value(), path.string());
}

Result<Document> parse_toml(std::string_view text, std::string file) {
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);  // a byte order mark is no character of the first line
  auto reading = std::make_shared<TomlReading>();
  const auto source = std::make_shared<const Source>(make_source(std::move(file), text));
  auto root = parse_toml_node(*source, text);
  if (!root) return root.problem();
  reading->source = source;
  reading->root = root.take();
  if (reading->root.at.line < 1) reading->root.at = {1, 1};
  return Document(std::move(reading));
}

}  // namespace stickwright
