// datum_reading.h - reads which faces of a piece the plates of a glue jig hold. Private to this room.
#pragma once
#include <string>
#include <vector>

#include "family/family.h"
#include "text/toml_reader.h"

namespace stickwright {

// The outward normals of the faces in `names`, the texts of the piece's key `datum`.
//   cells    the piece; none when it could not be read, then nothing is checked
//   returns  in the order given; notes wrong_family (not mitered), bad_face, face_twice, bad_count (faces of more than
//            three directions, parallel ones counted once)
std::vector<Vec> read_datum(const Table& piece, const std::vector<std::string>& names, const Family& family,
                            const Cells& cells);

}  // namespace stickwright
