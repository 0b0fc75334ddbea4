#include "desk/registering.hpp"
#include "office/choices.hpp"
#include "office/views.hpp"

#include <fmt/format.h>

namespace tarewell::office {
namespace {

/// What the form asks, in its order.
struct asked_field {
    const char *name, *label, *hint, *list;
    bool needed = false;
};
constexpr asked_field asked_fields[] = {
    {"who", "Who calls", "a name, e-mail or telephone number; an unknown name becomes a new grower", "list-grower",
     true},
    {"site", "Which site", "its id or name", "list-site", true},
    {"date", "Date", "left empty: today", ""},
    {"sizes", "Covers, length x width in ft", "such as 96x30; several with a comma", ""},
    {"mil", "Thickness, mil", "where it is known", ""},
    {"layers", "Layers", "left empty: 1", ""},
    {"structure", "Structure", "such as high tunnel", ""},
    {"film", "Film", "such as clear", ""},
    {"bundles", "How many bundles", "left empty: as many as the covers make", ""},
    {"phone", "Telephone, of a new grower", "", ""},
    {"email", "E-mail, of a new grower", "", ""},
    {"farm", "Farm, of a new grower", "", ""},
    {"town", "Town, of a new grower", "", ""},
};

std::vector<desk::cover_told> covers_in(const form& sent) {
    std::vector<desk::cover_told> covers;
    const auto all = sent.text("sizes");
    for (std::size_t from = 0; from < all.size();) {
        const auto end = std::min(all.find(',', from), all.size());
        auto one = desk::cover_of_size(all.substr(from, end - from));
        one.mil = sent.text("mil");
        if (!sent.text("layers").empty()) one.layers = sent.text("layers");
        one.structure = sent.text("structure");
        one.film = sent.text("film");
        covers.push_back(std::move(one));
        from = end + 1;
    }
    return covers;
}

desk::call call_in(const form& sent) {
    desk::call made;
    made.who = sent.text("who");
    made.new_grower = sent.text("is") == "new";
    if (!made.new_grower) made.grower = sent.text("is");
    made.farm = sent.text("farm");
    made.town = sent.text("town");
    made.email = sent.text("email");
    made.phone = sent.text("phone");
    made.site = sent.text("site");
    made.date = sent.text("date");
    made.covers = covers_in(sent);
    made.bundles = sent.text("bundles");
    made.again = sent.has("again");
    made.once = sent.text("once");
    return made;
}

value form_data(state& of, const form& sent, const std::string& once) {
    auto fields = value::array();
    for (const auto& each : asked_fields)
        fields.push_back({{"name", each.name},
                          {"label", each.label},
                          {"hint", *each.hint == '\0' ? value{} : value{each.hint}},
                          {"list", *each.list == '\0' ? value{} : value{each.list}},
                          {"type", std::string_view{each.name} == "date" ? "date" : "text"},
                          {"needed", each.needed},
                          {"value", sent.text(each.name)},
                          {"focus", each.name == asked_fields[0].name}});
    value data{{"fields", std::move(fields)},
               {"lists", choices_for(of.kept.season(), records::info(records::kind::cover))},
               {"once", once.empty() ? of.around.random() : once},
               {"done", nullptr},
               {"wrong", nullptr},
               {"ask_again", false},
               {"ask_who", false}};
    return data;
}

/// Whom the caller may be, or that the same is registered: the person says.
void put_doubt(value& data, const desk::call_in_doubt& doubt) {
    data["wrong"] = doubt.what();
    data["ask_again"] = doubt.of_what == desk::call_in_doubt::about::registration;
    data["ask_who"] = doubt.of_what == desk::call_in_doubt::about::grower;
    auto choices = value::array();
    for (const auto& each : doubt.may_be)
        choices.push_back({{"id", each.id}, {"words", each.in_words()}});
    data["may_be"] = std::move(choices);
}

} // namespace

response show_call(state& of, const call& /*from*/) {
    return page(of, "register", "A grower calls", form_data(of, {}, {}));
}

response take_call(state& of, const call& from) {
    auto data = form_data(of, from.sent, from.sent.text("once"));
    try {
        const auto told = desk::register_call(of.kept.file(), call_in(from.sent), of.around);
        auto fresh = form_data(of, {}, {});
        fresh["done"] = told.text();
        return page(of, "register", "A grower calls", std::move(fresh));
    } catch (const desk::call_in_doubt& doubt) {
        put_doubt(data, doubt);
    } catch (const records::input_error& wrong) {
        data["wrong"] = wrong.what();
    }
    return page(of, "register", "A grower calls", std::move(data), 422);
}

} // namespace tarewell::office
