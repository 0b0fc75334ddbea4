#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

struct cover : recorded {
    registration_place registration;
    std::string id, structure, film;
    std::optional<estimate::cover_size> size; ///< none: length, width and layers not given
    bool gives_thickness = false;
};

struct registration {
    registration_id id;
    day date;
    grower_place grower; ///< as whom it counts
    site_place site;
    std::vector<std::size_t> covers;
    std::vector<bundle_place> bundles;
    grower_place written_for; ///< as the paper says, whoever that was merged into
};

/// A row of covers.csv: a cover, and what it says of its registration.
struct cover_line : cover {
    registration_id registration_name;
    day date;
    grower_place grower;
    site_place site;
    std::optional<decimal> length, width, rise, mil;
    int layers = 0;
};

void check(const cover_line& line, const season& before, complaints& say);
void admit(cover_line&& line, season& to);
extern const kind_info cover_kind;

} // namespace tarewell::records
