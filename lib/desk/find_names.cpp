#include "desk/find_names.hpp"

#include "desk/answer.hpp"

#include <set>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT
using quantity::text_of;

/// The texts that are given, set apart by commas.
std::string joined(std::initializer_list<std::string_view> parts) {
    std::string text;
    for (const auto part : parts)
        if (!part.empty()) text += fmt::format("{}{}", text.empty() ? "" : ", ", part);
    return text;
}

class thing_maker {
  public:
    explicit thing_maker(const season& of) : s_{of} {}

    [[nodiscard]] named_thing of(const site& each) const {
        return {{each.id.text(), each.name, joined({each.town, each.host})}, {each.name}, {each.town, each.host}};
    }
    [[nodiscard]] named_thing of(const grower& each) const {
        if (each.erased) return {{each.id.text(), "details erased on request", {}}};
        return {{each.id.text(), joined({each.name, each.farm}), joined({each.town, each.phone})},
                {each.name, each.farm, each.email},
                {each.town},
                each.phone};
    }
    [[nodiscard]] named_thing of(const scale& each) const {
        return {{each.id.text(), each.location, fmt::format("class {}", each.class_name)}, {each.location}};
    }
    [[nodiscard]] named_thing of(const registration& each) const {
        const auto& who = s_.at(each.grower);
        return {
            {each.id.text(), joined({who.name, text_of(each.date)}),
             fmt::format("site {}, {}", s_.at(each.site).id.text(), counted(each.bundles.size(), "bundle", "bundles"))},
            {who.name, who.farm, who.email},
            {text_of(each.date)},
            who.phone};
    }
    [[nodiscard]] named_thing of(const bundle& each) const {
        const auto& from = s_.at(each.registration);
        const auto& who = s_.at(from.grower).name;
        const auto number = fmt::format("{} of {}", each.number, each.of);
        return {{each.id.text(), joined({number + " of " + from.id.text(), who}), text_of(from.date)},
                {fmt::format("{} {}", from.id.text(), each.number), from.id.text() + " " + number,
                 who.empty() ? who : who + ", " + number}};
    }
    [[nodiscard]] named_thing of(const bale& each) const {
        const auto& at = s_.at(each.site);
        return {{each.id.text(), fmt::format("pressed {} at {}", text_of(each.date), at.id.text()),
                 counted(each.bundles.size(), "bundle", "bundles")},
                {},
                {at.name, text_of(each.date)}};
    }
    [[nodiscard]] named_thing of(const shipment& each) const {
        return {{each.id.text(), fmt::format("{} to {}", text_of(each.date), each.processor),
                 joined({counted(each.bales.size(), "bale", "bales"), each.bill_of_lading})},
                {each.bill_of_lading},
                {each.processor, text_of(each.date)}};
    }
    [[nodiscard]] named_thing of(const ticket& each) const {
        const auto subject = each.weighs == subject::bale     ? "bale " + s_.at(each.bale).id.text()
                             : each.weighs == subject::bundle ? "bundle " + s_.at(each.bundle).id.text()
                                                              : "shipment " + s_.at(each.load).id.text();
        return {{each.id,
                 fmt::format("{}, {}, net {} {}", text_of(each.date), subject, quantity::shortest_text(each.net),
                             quantity::name_of(each.unit)),
                 each.document},
                {each.document}};
    }
    [[nodiscard]] named_thing of(const cost& each) const {
        return {{each.id, fmt::format("{}, ${}", text_of(each.date), text_of(each.amount)), each.category}};
    }

    /// What is found by its id alone.
    template <class Record> [[nodiscard]] named_thing of(const Record& each) const {
        return {{each.id, text_of(each.date), {}}};
    }

    template <class Record> std::vector<named_thing> all(const std::vector<Record>& records) const {
        std::vector<named_thing> made;
        for (const auto& each : records)
            made.push_back(of(each));
        return made;
    }

  private:
    const season& s_;
};

/// Who was merged into another is found by id alone; the other answers to both names.
void lend_names(std::vector<named_thing>& growers, const season& among) {
    for (const auto& each : among.merges) {
        auto& from = growers[each.grower.index()];
        auto& to = growers[among.counts_as(each.grower).index()];
        to.names.insert(to.names.end(), from.names.begin(), from.names.end());
        if (to.phone.empty()) to.phone = from.phone;
        from = {{from.told.id, "counts as " + to.told.id, {}}};
    }
}

} // namespace

std::vector<named_thing> named_things(const season& among, kind which) {
    const thing_maker make{among};
    switch (which) {
    case kind::site:
        return make.all(among.sites);
    case kind::grower: {
        auto made = make.all(among.growers);
        lend_names(made, among);
        made.erase(made.begin()); // `unknown` is nobody
        return made;
    }
    case kind::scale:
        return make.all(among.scales);
    case kind::cover:
        return make.all(among.registrations);
    case kind::bundle:
        return make.all(among.bundles);
    case kind::bale:
        return make.all(among.bales);
    case kind::shipment:
        return make.all(among.shipments);
    case kind::ticket:
        return make.all(among.tickets);
    case kind::cost:
        return make.all(among.costs);
    case kind::receipt:
        return make.all(among.receipts);
    case kind::reject:
        return make.all(among.rejects);
    case kind::inkind:
        return make.all(among.gifts);
    case kind::obligation:
        return make.all(among.obligations);
    case kind::payment:
        return make.all(among.payments);
    case kind::income:
        return make.all(among.incomes);
    default:
        return {};
    }
}

std::vector<named_thing> named_processors(const season& among) {
    std::set<std::string> names;
    for (const auto& each : among.shipments)
        names.insert(each.processor);
    std::vector<named_thing> made;
    for (const auto& name : names)
        made.push_back({{name, {}, {}}, {name}});
    return made;
}

} // namespace tarewell::desk
