#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

/// A source document kept beside the ledger by its hash.
struct document : recorded {
    std::string record, sha256, name; ///< record: "ticket T0001"
    std::int64_t bytes = 0;
};

void admit(document&& made, season& to);
extern const kind_info document_kind;

} // namespace tarewell::records
