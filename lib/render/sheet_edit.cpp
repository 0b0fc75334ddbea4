#include "render/sheet_edit.hpp"

#include "intake/row_reader.hpp"
#include "intake/xml_events.hpp"

#include <fmt/format.h>

#include <charconv>

namespace tarewell::render {
namespace {

using intake::xml_attributes;
using intake::xml_events;

constexpr std::size_t most_rows = 1'048'576, most_columns = 16'384; // of a sheet

std::size_t number_of(std::string_view text) {
    std::size_t value = 0;
    std::from_chars(text.data(), text.data() + text.size(), value);
    return value;
}

[[noreturn]] void damaged(const std::string& part, const std::string& what) {
    throw intake::unreadable(fmt::format("the file's part {} is damaged: {}", part, what),
                             "open it in the spreadsheet program and save it again as .xlsx");
}

std::optional<sheet_shape::area> area_of(std::string_view text) {
    const auto colon = text.find(':');
    const auto from = read_cell_place(text.substr(0, colon));
    const auto to = colon == std::string_view::npos ? from : read_cell_place(text.substr(colon + 1));
    if (!from || !to) return std::nullopt;
    return sheet_shape::area{*from, *to};
}

/// Rows and cells of a sheet as they come, those without a number of their own counted on.
class cell_listener : public intake::xml_listener {
  public:
    explicit cell_listener(std::string part) : part_{std::move(part)} {}
    void read(std::string_view xml) {
        xml_events events{*this, part_};
        events_ = &events;
        events.feed(xml, true);
        events_ = nullptr;
    }

  protected:
    void begins(std::string_view element, const xml_attributes& with) override {
        if (element == "sheetData") {
            in_data_ = true;
            begins_data();
        } else if (element == "row" && in_data_) {
            const auto last = at_.row;
            at_ = {with["r"].empty() ? last + 1 : number_of(with["r"]), 0};
            if (at_.row <= last || at_.row > most_rows)
                damaged(part_, fmt::format("its row {} is out of order", with["r"]));
            begins_row(with);
        } else if (element == "c" && in_data_) {
            const auto last = at_.column;
            const auto named = read_cell_place(with["r"]);
            at_.column = named ? named->column : last + 1;
            if (at_.column <= last || at_.column > most_columns || (named && named->row != at_.row))
                damaged(part_, fmt::format("its cell {} is out of order", with["r"]));
            begins_cell(with);
        } else {
            begins_other(element, with);
        }
    }
    void ends(std::string_view element) override {
        if (element == "sheetData") {
            ends_data();
            in_data_ = false;
        } else if (element == "row" && in_data_) {
            ends_row();
        } else if (element == "c" && in_data_) {
            ends_cell();
        } else {
            ends_other(element);
        }
    }
    void text(std::string_view /*some*/) override {}

    virtual void begins_data() {}
    virtual void ends_data() {}
    virtual void begins_row(const xml_attributes& /*with*/) {}
    virtual void ends_row() {}
    virtual void begins_cell(const xml_attributes& /*with*/) {}
    virtual void ends_cell() {}
    virtual void begins_other(std::string_view /*element*/, const xml_attributes& /*with*/) {}
    virtual void ends_other(std::string_view /*element*/) {}

    [[nodiscard]] std::size_t from() const { return events_->told_from(); }
    [[nodiscard]] std::size_t to() const { return events_->told_to(); }
    /// Of an element that is closed where it begins.
    [[nodiscard]] bool closed_at_once() const { return from() == to(); }

    std::string part_;
    cell_place at_;
    bool in_data_ = false;

  private:
    const xml_events* events_ = nullptr;
};

class shape_reader : public cell_listener {
  public:
    using cell_listener::cell_listener;
    sheet_shape made;

  private:
    void begins_other(std::string_view element, const xml_attributes& with) override {
        if (element == "f" && in_data_) {
            made.formulas[at_] = true;
            if (with["t"] == "array" || with["t"] == "dataTable")
                if (const auto area = area_of(with["ref"])) made.arrays.push_back(*area);
        }
        if (element == "mergeCell")
            if (const auto area = area_of(with["ref"])) made.merged.push_back(*area);
    }
};

class content_reader : public cell_listener {
  public:
    using cell_listener::cell_listener;
    std::map<cell_place, std::string> made;

  private:
    void begins_other(std::string_view element, const xml_attributes& /*with*/) override {
        capturing_ = in_data_ && (element == "v" || element == "t");
        if (capturing_) made[at_];
    }
    void ends_other(std::string_view /*element*/) override { capturing_ = false; }
    void text(std::string_view some) override {
        if (capturing_) made[at_] += some;
    }
    bool capturing_ = false;
};

std::string escaped(std::string_view text) {
    std::string made;
    for (const char c : text) {
        switch (c) {
        case '&':
            made += "&amp;";
            break;
        case '<':
            made += "&lt;";
            break;
        case '>':
            made += "&gt;";
            break;
        case '"':
            made += "&quot;";
            break;
        default:
            made += c;
        }
    }
    return made;
}

/// Finds where each cell stands or would stand, and what replaces it there.
class cell_editor : public cell_listener {
  public:
    cell_editor(std::string_view xml, const std::map<cell_place, cell_content>& cells, std::string part)
        : cell_listener{std::move(part)}, xml_{xml}, next_{cells.begin()}, end_{cells.end()} {}

    std::string edited() {
        read(xml_);
        if (next_ != end_) damaged(part_, "it has no rows and no place for them");
        std::string made;
        std::size_t done = 0;
        for (const auto& each : edits_) {
            made += xml_.substr(done, each.from - done);
            made += each.text;
            done = each.to;
        }
        return made + std::string{xml_.substr(done)};
    }

  private:
    struct edit {
        std::size_t from, to;
        std::string text;
    };

    [[nodiscard]] std::string tag(std::string_view name) const { return prefix_ + std::string{name}; }

    [[nodiscard]] std::string style_of(std::size_t column) const {
        if (!row_style_.empty()) return row_style_;
        for (const auto& each : columns_)
            if (each.first <= column && column <= each.last) return each.style;
        return {};
    }

    [[nodiscard]] std::string cell_text(const cell_place& place, const cell_content& content,
                                        const std::string& style) const {
        auto made = fmt::format("<{} r=\"{}\"", tag("c"), render::text_of(place));
        if (!style.empty()) made += fmt::format(" s=\"{}\"", escaped(style));
        if (const auto* number = std::get_if<written_number>(&content))
            return made + fmt::format("><{0}>{1}</{0}></{2}>", tag("v"), number->digits, tag("c"));
        if (const auto* text = std::get_if<std::string>(&content))
            return made + fmt::format(" t=\"inlineStr\"><{0}><{1} xml:space=\"preserve\">{2}</{1}></{0}></{3}>",
                                      tag("is"), tag("t"), escaped(*text), tag("c"));
        return made + "/>";
    }

    /// Cells of the row at hand that stand before a column, and whole rows before a row.
    std::string cells_before(std::size_t column) {
        std::string made;
        for (; next_ != end_ && next_->first.row == at_.row && next_->first.column < column; ++next_)
            made += cell_text(next_->first, next_->second, style_of(next_->first.column));
        return made;
    }
    std::string rows_before(std::size_t row) {
        std::string made;
        row_style_.clear();
        while (next_ != end_ && next_->first.row < row) {
            const auto number = next_->first.row;
            made += fmt::format("<{} r=\"{}\">", tag("row"), number);
            for (; next_ != end_ && next_->first.row == number; ++next_)
                made += cell_text(next_->first, next_->second, style_of(next_->first.column));
            made += fmt::format("</{}>", tag("row"));
        }
        return made;
    }
    void insert(std::size_t at, std::string text) {
        if (!text.empty()) edits_.push_back({at, at, std::move(text)});
    }
    /// At the end of an element, which is opened up where it was closed at once.
    void append_inside(std::string_view element, std::string text) {
        if (text.empty()) return;
        if (!closed_at_once()) return insert(from(), std::move(text));
        const auto slash = xml_.rfind('/', to() - 1);
        edits_.push_back({slash, to(), fmt::format(">{}</{}>", text, tag(element))});
    }

    void begins_data() override {
        const auto name = xml_.substr(from() + 1, to() - from() - 1);
        const auto colon = name.find(':');
        if (colon < name.find_first_of(" \t\r\n/>")) prefix_ = std::string{name.substr(0, colon + 1)};
    }
    void ends_data() override { append_inside("sheetData", rows_before(most_rows + 1)); }
    void begins_row(const xml_attributes& with) override {
        insert(from(), rows_before(at_.row));
        row_style_ =
            with["customFormat"] == "1" || with["customFormat"] == "true" ? std::string{with["s"]} : std::string{};
    }
    void ends_row() override {
        append_inside("row", cells_before(most_columns + 1));
        row_style_.clear();
    }
    void begins_cell(const xml_attributes& with) override {
        insert(from(), cells_before(at_.column));
        taken_ = next_ != end_ && next_->first == at_;
        if (!taken_) return;
        cell_from_ = from();
        cell_style_ = std::string{with["s"]};
    }
    void ends_cell() override {
        if (computed_ && !taken_ && value_to_ > value_from_) edits_.push_back({value_from_, value_to_, {}});
        computed_ = false;
        value_from_ = value_to_ = 0;
        if (!taken_) return;
        edits_.push_back({cell_from_, to(), cell_text(at_, next_->second, cell_style_)});
        ++next_;
        taken_ = false;
    }
    void ends_other(std::string_view element) override {
        if (element == "v" && in_data_) value_to_ = to();
    }
    void begins_other(std::string_view element, const xml_attributes& with) override {
        if (element == "f" && in_data_) computed_ = true;
        if (element == "v" && in_data_) value_from_ = from();
        if (element == "col" && !with["style"].empty())
            columns_.push_back({number_of(with["min"]), number_of(with["max"]), std::string{with["style"]}});
    }

    struct column_style {
        std::size_t first, last;
        std::string style;
    };

    std::string_view xml_;
    std::map<cell_place, cell_content>::const_iterator next_, end_;
    std::vector<edit> edits_; ///< in the order of their places
    std::vector<column_style> columns_;
    std::string prefix_, row_style_, cell_style_;
    std::size_t cell_from_ = 0;
    std::size_t value_from_ = 0, value_to_ = 0; ///< what a cell's formula came to
    bool taken_ = false, computed_ = false;
};

} // namespace

std::string text_of(cell_place of) {
    std::string letters;
    for (auto column = of.column; column > 0; column = (column - 1) / 26)
        letters.insert(letters.begin(), static_cast<char>('A' + (column - 1) % 26));
    return letters + std::to_string(of.row);
}

std::optional<cell_place> read_cell_place(std::string_view text) {
    cell_place made;
    std::size_t i = text.starts_with('$') ? 1 : 0;
    const auto letters = i;
    for (; i < text.size() && i < letters + 3; ++i) {
        const char c = text[i] >= 'a' && text[i] <= 'z' ? static_cast<char>(text[i] - 'a' + 'A') : text[i];
        if (c < 'A' || c > 'Z') break;
        made.column = made.column * 26 + static_cast<std::size_t>(c - 'A') + 1;
    }
    if (i == letters) return std::nullopt;
    if (i < text.size() && text[i] == '$') ++i;
    const auto digits = text.substr(i);
    constexpr std::size_t most_digits = 7;
    if (digits.empty() || digits.size() > most_digits ||
        digits.find_first_not_of("0123456789") != std::string_view::npos)
        return std::nullopt;
    made.row = number_of(digits);
    if (made.row == 0 || made.row > most_rows || made.column > most_columns) return std::nullopt;
    return made;
}

cell_place sheet_shape::shown(cell_place of) const {
    for (const auto& each : merged)
        if (each.holds(of)) return each.from;
    return of;
}

bool sheet_shape::is_computed(cell_place of) const {
    if (formulas.contains(of)) return true;
    for (const auto& each : arrays)
        if (each.holds(of)) return true;
    return false;
}

sheet_shape shape_of(std::string_view xml, const std::string& part) {
    shape_reader reader{part};
    reader.read(xml);
    return std::move(reader.made);
}

std::string with_cells(std::string_view xml, const std::map<cell_place, cell_content>& cells, const std::string& part) {
    return cell_editor{xml, cells, part}.edited();
}

std::map<cell_place, std::string> contents_of(std::string_view xml, const std::string& part) {
    content_reader reader{part};
    reader.read(xml);
    return std::move(reader.made);
}

} // namespace tarewell::render
