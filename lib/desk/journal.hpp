#pragma once
#include "desk/answer.hpp"
#include "desk/season_view.hpp"

#include <functional>

namespace tarewell::desk {

// What the ledger itself holds, as of a sequence or as it stands.

/// The journal, or the revisions of one record: a kind and its key's one or two parts. Throws records::input_error for
/// one that is not there.
answer history_of(const looked_at& at, const std::vector<std::string>& record);
/// Everything held against everything; found where something is wrong.
answer soundness_of(const looked_at& at);
/// The hash that stands for everything recorded by then.
answer head_of(const looked_at& at, std::optional<entry_no> as_of);
/// Documents attached; or `missing`: records of the kinds that want a source document and have none, then found.
answer documents_of(const looked_at& at, bool missing);

/// "gross=143 tare=30": what an entry holds, as written, without contact details and without the columns of `less`.
std::string written_values(const ledger::stored_row& stored, const std::vector<std::size_t>& less = {});

} // namespace tarewell::desk
