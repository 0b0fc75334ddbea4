#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

struct inkind : recorded {
    std::string id, kind, giver, source;
    day date;
    site_place site;
    decimal quantity, rate;
    money value;
    std::string category; ///< its object class, where the row says
    std::string purpose;  ///< one of purpose_words, likewise
    bool has_document = false;
};

void check(const inkind& made, const season& before, complaints& say);
void admit(inkind&& made, season& to);
extern const kind_info inkind_kind;

} // namespace tarewell::records
