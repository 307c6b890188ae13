#include "serve/design_save.h"

#include <fmt/core.h>

#include <functional>
#include <mutex>

#include "design/design_edit.h"
#include "design/design_file.h"
#include "serve/design_answer.h"
#include "serve/glue_asked.h"
#include "text/files.h"

namespace stickwright {
namespace {

// Between the look at a file's version and its writing nobody else of this program may write it.
std::mutex& saving() {
  static std::mutex lock;
  return lock;
}

PieceAsked read_piece_given(const Given& body) {
  PieceAsked p;
  p.name = body.text("name");
  p.copies = static_cast<int>(body.whole_if("copies", 0, kMaxPieces).value_or(1));
  p.mirrored_copies = static_cast<int>(body.whole_if("mirrored_copies", 0, kMaxPieces).value_or(0));
  p.optional = body.flag_or("optional", false);
  p.keep_blocks = body.flag_or("keep_blocks", false);
  p.datum = body.texts_or_none("datum");
  if (body.has("blocks")) p.blocks = read_blocks_given(body);
  return p;
}

Reply written(const std::filesystem::path& place, const std::string& text, int status = 200) {
  if (auto done = write_file(place, text); !done) return problem_reply(done.problem());
  return json_reply({{"version", version_of(text)}}, status);
}

using Edit = std::function<Result<std::string>(const std::string& text)>;

// A file that is still as the page has read it.
Result<std::string> text_as_read(const Folder& folder, const std::string& name, const std::string& version) {
  auto text = text_in(folder, name);
  if (text && version_of(text.value()) != version)
    return Problem{"changed_since", name,
                   "somebody has changed this file since it was read here. Read it again; nothing was written.", ""};
  return text;
}

Reply saved(const Folder& folder, const std::string& name, const std::string& version, const Edit& edit) {
  const std::scoped_lock alone(saving());
  const auto place = folder.file(name);
  if (!place) return problem_reply(place.problem());
  const auto text = text_as_read(folder, name, version);
  if (!text) return problem_reply(text.problem());
  const auto changed = edit(text.value());
  if (!changed) return problem_reply(changed.problem());
  return written(place.value(), changed.value());
}

Problem is_there(const std::string& name) {
  return {"is_there", name, "a file of this name is there already. Choose another name; nothing was written.", ""};
}

// The piece of that index changed, or added when there is none.
Result<std::string> piece_put(const std::string& text, const std::string& file, std::optional<std::int64_t> index,
                              const PieceAsked& piece) {
  return index ? with_piece_changed(text, file, static_cast<std::size_t>(*index), piece)
               : with_piece_added(text, file, piece);
}

// Writes a file that must not be there yet.
Reply written_anew(const Folder& folder, const std::string& file, const std::string& text) {
  const auto place = folder.place_of(file);
  if (!place) return problem_reply(place.problem());
  std::error_code ignored;
  if (std::filesystem::exists(std::filesystem::symlink_status(place.value(), ignored)))
    return problem_reply(is_there(file));
  return written(place.value(), text, 201);
}

}  // namespace

Reply save_piece_reply(const Folder& folder, const Call& call) {
  std::optional<Problem> problem;
  const Given body(call.body, problem);
  body.only(
      {"file", "version", "piece", "name", "copies", "mirrored_copies", "optional", "keep_blocks", "datum", "blocks"});
  const std::string file = body.text("file"), version = body.text("version");
  const auto index = body.whole_if("piece", 0, kMaxSupplied);
  const PieceAsked piece = read_piece_given(body);
  if (!index && !piece.blocks) body.report("blocks", "missing_key", "a new piece needs its blocks");
  if (problem) return problem_reply(*problem);
  return saved(folder, file, version, [&](const std::string& text) { return piece_put(text, file, index, piece); });
}

Reply remove_piece_reply(const Folder& folder, const Call& call) {
  std::optional<Problem> problem;
  const Given body(call.body, problem);
  body.only({"file", "version", "piece"});
  const std::string file = body.text("file"), version = body.text("version");
  const auto index = static_cast<std::size_t>(body.whole("piece", 0, kMaxSupplied));
  if (problem) return problem_reply(*problem);
  return saved(folder, file, version, [&](const std::string& text) { return with_piece_removed(text, file, index); });
}

Reply copy_design_reply(const Folder& folder, const Call& call) {
  std::optional<Problem> problem;
  const Given body(call.body, problem);
  body.only({"file", "version", "as", "piece", "name", "copies", "mirrored_copies", "optional", "keep_blocks", "datum",
             "blocks"});
  const std::string file = body.text("file"), version = body.text("version"), as = body.text("as");
  const auto index = body.whole_if("piece", 0, kMaxSupplied);
  const PieceAsked piece = read_piece_given(body);
  if (!index && !piece.blocks) body.report("blocks", "missing_key", "a new piece needs its blocks");
  if (!as.ends_with(".toml")) body.report("as", "bad_name", "the name of a design file ends with .toml");
  if (problem) return problem_reply(*problem);
  const std::scoped_lock alone(saving());
  const auto text = text_as_read(folder, file, version);
  if (!text) return problem_reply(text.problem());
  const auto changed = piece_put(text.value(), as, index, piece);
  if (!changed) return problem_reply(changed.problem());
  return written_anew(folder, as, changed.value());
}

Reply new_design_reply(const Folder& folder, const Call& call) {
  std::optional<Problem> problem;
  const Given body(call.body, problem);
  body.only({"file", "name", "family", "goal", "piece"});
  const std::string file = body.text("file");
  NewDesign design{body.text("name"), body.text_if("family").value_or("mitered"), read_goal_given(body), {}};
  if (const auto piece = body.object_if("piece")) {
    piece->only({"name", "copies", "mirrored_copies", "optional", "keep_blocks", "datum", "blocks"});
    design.piece = read_piece_given(*piece);
    if (!design.piece.blocks) piece->report("blocks", "missing_key", "a new piece needs its blocks");
  } else {
    body.report("piece", "missing_key", "a design has at least one piece");
  }
  if (!file.ends_with(".toml")) body.report("file", "bad_name", "the name of a design file ends with .toml");
  if (problem) return problem_reply(*problem);
  const auto text = new_design_text(design, file);
  if (!text) return problem_reply(text.problem());
  const std::scoped_lock alone(saving());
  return written_anew(folder, file, text.value());
}

}  // namespace stickwright
