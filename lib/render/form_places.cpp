#include "render/form_places.hpp"

#include "intake/xml_events.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace tarewell::render {
namespace {

using intake::xml_attributes;
using intake::xml_events;

class terms_reader : public intake::xml_listener {
  public:
    workbook_terms read(std::string_view xml, const std::string& part) {
        xml_events events{*this, part};
        events_ = &events;
        xml_ = xml;
        events.feed(xml, true);
        if (made_.calculation_to == 0) made_.calculation_from = made_.calculation_to = after_;
        return std::move(made_);
    }

  private:
    void begins(std::string_view element, const xml_attributes& with) override {
        if (element == "workbook") {
            const auto tag = xml_.substr(events_->told_from() + 1);
            const auto colon = tag.find(':');
            if (colon < tag.find_first_of(" \t\r\n/>")) made_.prefix = std::string{tag.substr(0, colon + 1)};
        }
        if (element == "definedName") {
            made_.names.push_back({std::string{with["name"]}, {}, {}, {}});
            capturing_ = true;
        }
        if (element == "calcPr") {
            made_.calculation_from = events_->told_from();
            made_.calculation_to = events_->told_to();
            made_.calculation_told = with["fullCalcOnLoad"] == "1" || with["fullCalcOnLoad"] == "true";
        }
    }
    void ends(std::string_view element) override {
        if (element == "definedName") {
            capturing_ = false;
            auto& name = made_.names.back();
            if (const auto place = read_reference(name.refers)) name.sheet = place->sheet, name.area = place->area;
        }
        // What may stand before calcPr (ECMA-376 part 1, 18.2.27; from memory).
        for (const std::string_view before : {"sheets", "functionGroups", "externalReferences", "definedNames"})
            if (element == before) after_ = events_->told_to();
    }
    void text(std::string_view some) override {
        if (capturing_) made_.names.back().refers += some;
    }

    const xml_events* events_ = nullptr;
    std::string_view xml_;
    workbook_terms made_;
    std::size_t after_ = 0;
    bool capturing_ = false;
};

/// A sheet's name before its '!', out of its quotes; none where it is of another file, or of several sheets.
std::optional<std::string> sheet_of(std::string_view text) {
    if (text.empty()) return std::nullopt;
    if (text.front() != '\'')
        return text.find_first_of("[]:'\"(),") == std::string_view::npos ? std::optional{std::string{text}}
                                                                         : std::nullopt;
    if (text.size() < 3 || text.back() != '\'') return std::nullopt;
    std::string made;
    for (std::size_t i = 1; i + 1 < text.size(); ++i) {
        if (text[i] == '\'' && text[++i] != '\'') return std::nullopt;
        made += text[i];
    }
    return made.find_first_of("[]:") == std::string::npos ? std::optional{made} : std::nullopt;
}

} // namespace

workbook_terms terms_of_workbook(std::string_view xml, const std::string& part) {
    return terms_reader{}.read(xml, part);
}

std::string with_calculation(std::string_view xml, const workbook_terms& of) {
    if (of.calculation_told) return std::string{xml};
    std::string told{xml.substr(of.calculation_from, of.calculation_to - of.calculation_from)};
    if (told.empty()) {
        told = fmt::format("<{}calcPr fullCalcOnLoad=\"1\"/>", of.prefix);
    } else if (const auto at = told.find("fullCalcOnLoad"); at != std::string::npos) {
        const auto open = told.find_first_of("\"'", at);
        const auto close = told.find(told[open], open + 1);
        told.replace(open + 1, close - open - 1, "1");
    } else {
        told.insert(told.find_first_of(" \t\r\n/>"), " fullCalcOnLoad=\"1\"");
    }
    std::string made{xml.substr(0, of.calculation_from)};
    return made.append(told).append(xml.substr(of.calculation_to));
}

std::optional<defined_name> read_reference(std::string_view text) {
    if (text.starts_with('=')) text.remove_prefix(1);
    const auto mark = text.rfind('!');
    if (mark == std::string_view::npos) return std::nullopt;
    const auto sheet = sheet_of(text.substr(0, mark));
    const auto cells = text.substr(mark + 1);
    const auto colon = cells.find(':');
    const auto from = read_cell_place(cells.substr(0, colon));
    const auto to = colon == std::string_view::npos ? from : read_cell_place(cells.substr(colon + 1));
    if (!sheet || !from || !to || to->row < from->row || to->column < from->column) return std::nullopt;
    return defined_name{{}, std::string{text}, *sheet, {*from, *to}};
}

namespace {

template <class Take> void read_part(const intake::zip_parts& of, const std::string& name, Take&& take) {
    const auto part = of.open(name);
    std::array<char, 65'536> piece{};
    while (const auto some = part->read(piece.data(), piece.size()))
        take(std::string_view{piece.data(), some});
}

} // namespace

void check_part(const intake::zip_parts& of, const std::string& name) {
    read_part(of, name, [](std::string_view) {});
}

std::string text_of_part(const intake::zip_parts& of, const std::string& name) {
    std::string made;
    read_part(of, name, [&](std::string_view some) { made += some; });
    return made;
}

} // namespace tarewell::render
