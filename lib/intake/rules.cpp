#include "intake/rules.hpp"

namespace tarewell::intake {

using namespace records; // NOLINT

bool rules::check(const row& values, const complaint& complain) const {
    complaints said{values, refused, complain};
    info(values.which).check(values, season_, said);
    return said.good() && !said.excused();
}

void rules::admit(const row& values, entry_no entry, std::size_t line) {
    season_.add(values, entry, entry);
    if (info(values.which).check_all != nullptr) lines_.push_back(line);
}

void rules::finish(kind which,
                   const std::function<void(std::size_t, std::string_view, std::string, std::string)>& complain) {
    const auto& kind = info(which);
    if (kind.check_all == nullptr) return;
    for (auto& late : kind.check_all(season_, first_new_))
        complain(lines_[late.place - first_new_], late.column, std::move(late.what), std::move(late.right));
    first_new_ += lines_.size();
    lines_.clear();
}

} // namespace tarewell::intake
