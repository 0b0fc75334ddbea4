#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

/// The coordinator's paragraphs for the report of a quarter or another period.
struct note : recorded {
    quantity::period period;
    std::string part, text;
};

void check(const note& made, const season& before, complaints& say);
void admit(note&& made, season& to);
extern const kind_info note_kind;

} // namespace tarewell::records
