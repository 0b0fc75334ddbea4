#include "ledger/image_layout.hpp"

#include "records/coded_rows.hpp"

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

/// Goes up with every change of what an image's bytes mean.
constexpr std::string_view form = "tarewell image 1";

int group_of(const kind_info& kind, std::size_t column, image_layout& within) {
    const auto& told = kind.columns[column];
    if (told.personal || !coded(kind.which).kept[column]) return image_layout::left_out;
    if (told.names_by != nullptr) return image_layout::by_row;
    if (told.names) return static_cast<int>(*told.names);
    if (kind.key[0] == column) return static_cast<int>(kind.which);
    return static_cast<int>(within.groups++);
}

image_layout made() {
    image_layout layout;
    std::string told;
    add_field(told, form);
    for (const auto& kind : all_kinds()) {
        add_field(told, kind.name);
        for (std::size_t i = 0; i < kind.columns.size(); ++i) {
            const auto group = group_of(kind, i, layout);
            layout.group_of[static_cast<std::size_t>(kind.which)][i] = group;
            add_field(told, kind.columns[i].name);
            add_number(told, group);
        }
        add_none(told);
        for (const auto& number : kind.worked_out)
            add_field(told, number.name);
        add_none(told);
    }
    layout.fingerprint = sha256{}.of(told);
    return layout;
}

} // namespace

const image_layout& layout_of_images() {
    static const auto layout = made();
    return layout;
}

std::size_t group_of(const row& values, std::size_t column) {
    const auto group = layout_of_images().of(values.which)[column];
    return group == image_layout::by_row ? static_cast<std::size_t>(info(values.which).columns[column].names_by(values))
                                         : static_cast<std::size_t>(group);
}

} // namespace tarewell::ledger
