#pragma once
// Only for the sources of this room.
#include "ledger/image.hpp"

namespace tarewell::ledger {

/// Beside the ledger, under its name with ".image" at the end.
std::string path_of_image(const ledger_file& of);

/// False for a ledger that is no file.
bool can_have_image(const ledger_file& of);

/// The image beside a ledger, as far as its head and the ledger's agree. Throws unusable_image: there is none, or it is
/// cut, damaged, of another ledger or of another version of the program.
image read_image(const ledger_file& of);

/// Puts an image beside its ledger, whole or not at all. False where that could not be done: no image is needed, so
/// that is no error. What another process writes at the same time stands instead.
bool write_image(const ledger_file& of, const image& made);
void remove_image(const ledger_file& of);

} // namespace tarewell::ledger
