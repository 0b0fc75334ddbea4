#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

/// The coordinator's paragraphs for a quarter's report.
struct note : recorded {
    quantity::quarter quarter;
    std::string part, text;
};

void check(const note& made, const season& before, complaints& say);
void admit(note&& made, season& to);
extern const kind_info note_kind;

} // namespace tarewell::records
