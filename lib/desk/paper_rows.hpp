#pragma once
// What several sheets say alike.
#include "desk/paper.hpp"
#include "desk/places.hpp"

namespace tarewell::desk {

/// "Thea Garrowby", "grower G005" where details were erased, "no label" for the grower unknown.
std::string name_on_paper(const records::grower& of);
/// "Thea Garrowby, 2 of 5"
std::string label_of(const records::season& of, records::bundle_place bundle);
/// Bundles as one looks for them on a list: by the name on the label, registration and number.
void sort_for_paper(const records::season& of, std::vector<records::bundle_place>& bundles);

/// Registered for the site by that day, in no bale, and never received there or anywhere, or last held.
std::vector<records::bundle_place> expected_at(const season_view& seen, records::site_place site, day on);
/// What waits at a site.
std::vector<records::bundle_place> lying_at(const season_view& seen, const site_stock& here);
/// Pressed by that day, at the site if one is given, and not weighed.
std::vector<records::bale_place> not_weighed(const season_view& seen, records::site_place site, day on);

/// Fields of a site: site, site_name, town, host, hours, capacity; empty where it has none.
value site_fields(const season_view& seen, const site_stock& of);
/// id, bundle, label, name, number, of, registration.
value bundle_fields(const season_view& seen, records::bundle_place bundle);
/// The sites that the sheet is for: the one wanted, or all.
std::vector<site_stock> sites_wanted(const season_view& seen, const paper_wanted& wanted);
/// The ids that the next bales get.
std::vector<std::string> next_bale_ids(const season_view& seen, std::size_t count);
/// [{"line": "1"}, ...] as a list.
value lines_to_write_on(std::size_t count);
/// "1,240 lb": whole units, since a claim is no closer than that.
std::string about(const season_view& seen, quantity::weight of);
/// Adds a list and whether it has any: "rows" and "any_rows".
void put_rows(value& to, const std::string& name, value rows);

} // namespace tarewell::desk
