#pragma once
// Only for the sources of this room: the table of a kind's columns, from which everything else of it follows.
#include "records/coded_rows.hpp"
#include "records/complaints.hpp"
#include "records/season.hpp"

#include <type_traits>
#include <utility>

namespace tarewell::records {

/// A column of a kind's file, and what of the record it fills in.
template <class T> struct field {
    column told;
    /// False when the text names what nothing defines.
    bool (*read)(T& into, std::string_view text, const season& among) = nullptr;
    /// The same of a text by its number; null: by `read`.
    bool (*recall)(T& into, std::uint32_t number, coded_column& from, const season& among) = nullptr;

    [[nodiscard]] constexpr field required() const {
        return with([](column& c) { c.required = true; });
    }
    [[nodiscard]] constexpr field shared() const {
        return with([](column& c) { c.shared = true; });
    }
    [[nodiscard]] constexpr field personal() const {
        return with([](column& c) { c.personal = true; });
    }
    [[nodiscard]] constexpr field later() const {
        return with([](column& c) { c.later = true; });
    }
    [[nodiscard]] constexpr field together() const {
        return with([](column& c) { c.together = true; });
    }
    [[nodiscard]] constexpr field looked_at() const {
        return with([](column& c) { c.looked_at = true; });
    }

  private:
    template <class Change> [[nodiscard]] constexpr field with(Change change) const {
        field made = *this;
        change(made.told);
        return made;
    }
};

/// A whole number kept beside the text, and what of the record it fills in.
template <class T> struct whole_field {
    std::string_view name;
    whole_number how{};
    std::array<std::string_view, 3> from{};
    void (*keep)(T& into, std::int64_t number) = nullptr;
};

// How a text becomes a member, by the member's type.
std::int64_t whole_of(std::string_view text);
inline bool take(std::string& to, std::string_view text, const season& /*among*/) {
    to.assign(text);
    return true;
}
template <class Tag> bool take(quantity::id<Tag>& to, std::string_view text, const season& /*among*/) {
    to = quantity::id<Tag>{std::string{text}};
    return true;
}
template <class Tag> bool take(quantity::place<Tag>& to, std::string_view text, const season& among) {
    to = quantity::place<Tag>{among.place_of(kind_at<Tag>, text)};
    return bool{to};
}
bool take(day& to, std::string_view text, const season& among);
bool take(decimal& to, std::string_view text, const season& among);
bool take(quantity::period& to, std::string_view text, const season& among);
template <class Value> bool take(std::optional<Value>& to, std::string_view text, const season& among) {
    return take(to.emplace(), text, among);
}
template <class Whole>
requires(std::is_integral_v<Whole> && !std::is_same_v<Whole, bool>) bool take(Whole& to, std::string_view text,
                                                                              const season& /*among*/) {
    to = static_cast<Whole>(whole_of(text));
    return true;
}
/// A member that only says whether the column is given.
inline bool take(bool& to, std::string_view text, const season& /*among*/) {
    to = !text.empty();
    return true;
}

template <class> inline constexpr bool is_place = false;
template <class Tag> inline constexpr bool is_place<quantity::place<Tag>> = true;
template <class> inline constexpr bool is_text = false;
template <> inline constexpr bool is_text<std::string> = true;
template <class Tag> inline constexpr bool is_text<quantity::id<Tag>> = true;

/// The makers of a kind's fields: `using a = fields_of<ticket>; a::date<&ticket::date>("date").required()`.
template <class T> struct fields_of {
    using field = records::field<T>;
    using whole = whole_field<T>;

    template <auto Member> static bool read(T& into, std::string_view text, const season& among) {
        return take(into.*Member, text, among);
    }
    template <auto Member> static bool recall(T& into, std::uint32_t number, coded_column& from, const season& among) {
        using value = std::remove_cvref_t<decltype(into.*Member)>;
        if constexpr (is_place<value>) {
            into.*Member = value{from.place(number)};
            return bool{into.*Member};
        } else if constexpr (is_text<value>) {
            return take(into.*Member, from.text(number), among);
        } else {
            bool good = true;
            into.*Member = from.template value<value>(
                number, [&](value& to, std::string_view text) { good = take(to, text, among); });
            return good;
        }
    }
    template <auto Member> static constexpr field made(std::string_view name, column_type type) {
        return {{name, type}, &read<Member>, &recall<Member>};
    }
    template <auto Member> static constexpr field id(std::string_view name) {
        return made<Member>(name, column_type::id);
    }
    template <auto Member> static constexpr field text(std::string_view name) {
        return made<Member>(name, column_type::text);
    }
    template <auto Member> static constexpr field date(std::string_view name) {
        return made<Member>(name, column_type::date);
    }
    template <auto Member> static constexpr field number(std::string_view name, column_type type) {
        return made<Member>(name, type);
    }
    /// One of the words, which stand in the order of the member's enumeration; a text member keeps the word.
    template <auto Member, const auto& Words> static constexpr field one_of(std::string_view name) {
        field made{{name, column_type::word},
                   [](T& into, std::string_view text, const season&) {
                       read_word<Words>(into.*Member, text);
                       return true;
                   },
                   [](T& into, std::uint32_t number, coded_column& from, const season&) {
                       using value = std::remove_cvref_t<decltype(into.*Member)>;
                       into.*Member = from.template value<value>(number, &read_word<Words, value>);
                       return true;
                   }};
        made.told.words = Words;
        return made;
    }
    /// The id of a record of another kind, kept as its place in the season.
    template <auto Member> static constexpr field names(std::string_view name) {
        auto field = made<Member>(name, column_type::id);
        field.told.names = kind_named(Member);
        return field;
    }
    /// The same, kept as its text or as a place among several of that id.
    template <auto Member, kind Of> static constexpr field names_a(std::string_view name) {
        field made{{name, column_type::id},
                   [](T& into, std::string_view text, const season& among) {
                       return keep_named(into.*Member, text, among.place_of(Of, text));
                   },
                   [](T& into, std::uint32_t number, coded_column& from, const season&) {
                       return keep_named(into.*Member, from.text(number), from.place(number));
                   }};
        made.told.names = Of;
        return made;
    }
    /// A column that the season doesn't keep: it stands in the ledger, and is shown from there.
    static constexpr field unkept(std::string_view name, column_type type) { return {{name, type}}; }
    template <const auto& Words> static constexpr field unkept_word(std::string_view name) {
        field made{{name, column_type::word}};
        made.told.words = Words;
        return made;
    }

    template <auto Member>
    static constexpr whole weight(std::string_view name, std::string_view of, std::string_view unit) {
        return {name, whole_number::thousandths, {of, unit}, &keep<Member>};
    }
    template <auto Member> static constexpr whole cents(std::string_view name, std::string_view of) {
        return {name, whole_number::cents, {of}, &keep<Member>};
    }
    template <auto Member> static constexpr whole cents_or_product(std::string_view name, std::string_view amount,
                                                                   std::string_view quantity, std::string_view rate) {
        return {name, whole_number::cents_or_product, {amount, quantity, rate}, &keep<Member>};
    }

  private:
    template <auto Member> static void keep(T& into, std::int64_t number) { put(into.*Member, number); }
    template <class Unit> static void put(quantity::whole<Unit>& to, std::int64_t number) {
        to = quantity::whole<Unit>{number};
    }
    template <class Unit> static void put(std::optional<quantity::whole<Unit>>& to, std::int64_t number) {
        to = quantity::whole<Unit>{number};
    }
    template <const auto& Words, class Value> static void read_word(Value& to, std::string_view text) {
        if constexpr (std::is_same_v<Value, std::string>) {
            to = text;
        } else {
            for (std::size_t i = 0; i < std::size(Words); ++i)
                if (text == Words[i]) to = static_cast<Value>(i);
        }
    }
    template <class Value> static bool keep_named(Value& to, std::string_view text, std::size_t place) {
        if constexpr (std::is_same_v<Value, std::string>)
            to = text;
        else
            to = place;
        return place != season::nowhere;
    }
    template <class Tag, class Of> static constexpr kind kind_named(quantity::place<Tag> Of::*) { return kind_at<Tag>; }
};

/// A kind without whole numbers.
template <class T> inline constexpr std::array<whole_field<T>, 0> no_numbers{};

// A kind without rules of its own; a kind with rules declares a better match.
template <class T> void check(const T& /*record*/, const season& /*before*/, complaints& /*say*/) {}

/// A row as its record; `lost` hears of columns that name what nothing defines.
template <class T, const auto& Fields, const auto& Numbers>
T record_of(const row& values, const season& among, recorded by, const missing& lost) {
    T made{};
    static_cast<recorded&>(made) = by;
    for (std::size_t i = 0; i < std::size(Fields); ++i)
        if (!values[i].empty() && Fields[i].read != nullptr && !Fields[i].read(made, values[i], among)) lost(i);
    for (std::size_t i = 0; i < std::size(Numbers); ++i)
        if (values.worked_out[i]) Numbers[i].keep(made, *values.worked_out[i]);
    return made;
}

template <class T, const auto& Fields, const auto& Numbers>
void check_row(const row& values, const season& before, complaints& say) {
    const auto record = record_of<T, Fields, Numbers>(values, before, {}, [&](std::size_t column) {
        const auto& told = Fields[column].told;
        if (told.names) say.undefined(told.name, *told.names);
    });
    if (say.good() && !say.excused()) check(record, before, say);
}

template <class T, const auto& Fields, const auto& Numbers>
void add_row(season& to, const row& values, recorded by, const missing& lost) {
    bool complete = true;
    auto record = record_of<T, Fields, Numbers>(values, to, by, [&](std::size_t column) {
        complete = false;
        lost(column);
    });
    if (complete) admit(std::move(record), to);
}

/// What add_row does, of rows whose texts are numbered.
template <class T, const auto& Fields, const auto& Numbers>
void add_coded_rows(season& to, const coded_rows& rows, std::span<coded_column> columns,
                    const std::function<void(std::size_t, std::size_t)>& lost) {
    auto& own = adding_by_number::now()->own;
    for (std::size_t at = 0; at < rows.count; ++at) {
        T made{};
        static_cast<recorded&>(made) = rows.by[at];
        bool complete = true;
        const auto keep = [&]<std::size_t Column>() {
            constexpr auto& field = Fields[Column];
            const auto number = rows.cells[Column][at];
            if (number == 0) return;
            bool found = true;
            if constexpr (field.recall != nullptr)
                found = field.recall(made, number, columns[Column], to);
            else if constexpr (field.read != nullptr)
                found = field.read(made, columns[Column].text(number), to);
            if (found) return;
            complete = false;
            lost(at, Column);
        };
        [&]<std::size_t... Column>(std::index_sequence<Column...>) { (keep.template operator()<Column>(), ...); }
        (std::make_index_sequence<std::size(Fields)>{});
        for (std::size_t i = 0; i < std::size(Numbers); ++i)
            if (rows.worked_out[i][at]) Numbers[i].keep(made, *rows.worked_out[i][at]);
        own = rows.cells[rows.key][at];
        if (complete) admit(std::move(made), to);
    }
}

template <class T, const auto& Fields, const auto& Numbers> consteval coded_kind coded_made(kind which) {
    coded_kind made{which, {}, &add_coded_rows<T, Fields, Numbers>};
    for (std::size_t i = 0; i < std::size(Fields); ++i)
        made.kept[i] = Fields[i].read != nullptr;
    return made;
}

template <const auto& Fields> inline constexpr auto columns_of = [] {
    std::array<column, std::size(Fields)> columns{};
    for (std::size_t i = 0; i < columns.size(); ++i)
        columns[i] = Fields[i].told;
    return columns;
}();

template <const auto& Fields> constexpr std::size_t column_called(std::string_view name) {
    for (std::size_t i = 0; i < std::size(Fields); ++i)
        if (Fields[i].told.name == name) return i;
    throw "no such column";
}

template <const auto& Fields, const auto& Numbers> inline constexpr auto numbers_of = [] {
    std::array<worked_out_number, std::size(Numbers)> numbers{};
    for (std::size_t i = 0; i < numbers.size(); ++i) {
        numbers[i] = {Numbers[i].name, Numbers[i].how, {}};
        for (std::size_t part = 0; part < 3; ++part)
            if (!Numbers[i].from[part].empty()) numbers[i].from[part] = column_called<Fields>(Numbers[i].from[part]);
    }
    return numbers;
}();

/// Whose a kind's records are: a file of a season's folder, counted or checked in the award's terms or not; the award's
/// own affairs, taken in one by one; the program's.
enum class belongs { to_the_season, beside_the_award, to_the_award, to_nothing, to_the_program };

/// What a kind is called, and what of its columns is special.
struct kind_words {
    kind which;
    std::string_view name, file;
    std::string_view key, second_key = {};
    std::string_view dated = {}; ///< the column that gives an entry's effective date
    belongs is = belongs::to_the_season;
};

/// All that follows from a kind's table.
template <class T, const auto& Fields, const auto& Numbers> consteval kind_info kind_made(kind_words words) {
    kind_info made{words.which, words.name, words.file, columns_of<Fields>};
    made.key[0] = column_called<Fields>(words.key);
    if (!words.second_key.empty()) {
        made.key_columns = 2;
        made.key[1] = column_called<Fields>(words.second_key);
    }
    if (!words.dated.empty()) made.date_column = column_called<Fields>(words.dated);
    made.internal = words.is == belongs::to_the_program;
    made.in_season = words.is == belongs::to_the_season || words.is == belongs::beside_the_award;
    made.under_award = words.is != belongs::beside_the_award && words.is != belongs::to_nothing;
    made.worked_out = numbers_of<Fields, Numbers>;
    made.check = &check_row<T, Fields, Numbers>;
    made.add = &add_row<T, Fields, Numbers>;
    return made;
}

} // namespace tarewell::records
