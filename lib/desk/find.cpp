#include "desk/find.hpp"

#include "desk/answer.hpp"
#include "desk/find_names.hpp"
#include "records/complaints.hpp"
#include "records/letters.hpp"
#include "records/nearest_name.hpp"

#include <algorithm>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT

constexpr std::size_t least_phone_digits = 4; ///< "0103"
constexpr std::size_t least_part = 3;         ///< letters within a word

std::vector<std::string> words_of(std::string_view text) {
    std::vector<std::string> words;
    std::string word;
    for (const char c : folded(text) + ' ') {
        const bool letter = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || static_cast<unsigned char>(c) >= 0x80;
        if (letter)
            word += c;
        else if (!word.empty())
            words.push_back(std::exchange(word, {}));
    }
    return words;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// An id's letters before its number, and the number without zeros in front: "B", "44"; no number where it has none or
/// anything after it.
struct numbered {
    std::string letters, number;
};
numbered numbered_of(std::string_view id) {
    const auto from = std::find_if(id.begin(), id.end(), is_digit);
    if (from == id.end() || !std::all_of(from, id.end(), is_digit)) return {};
    const auto first = std::find_if(from, id.end() - 1, [](char c) { return c != '0'; });
    return {folded({id.begin(), from}), {first, id.end()}};
}

/// "B044", "R001-2": letters, then digits, without a space. A wrong id must not be taken for a part of a name.
bool looks_like_an_id(std::string_view said) {
    return said.find(' ') == std::string_view::npos && !is_digit(said.front()) && said.front() != '+' &&
           std::any_of(said.begin(), said.end(), is_digit) && said.find('@') == std::string_view::npos;
}

/// How well a record matches; the first that any record reaches decides.
enum class match { whole, same_letters, same_number, phone_end, words, places, part, none };

class judge {
  public:
    explicit judge(std::string_view said)
        : said_{said}, folded_{folded(said)}, letters_{letters_of(folded_)}, words_{words_of(said)},
          number_{numbered_of(said)}, phone_{phone_of(said)}, like_an_id_{looks_like_an_id(said)} {}

    [[nodiscard]] match of(const named_thing& thing) const {
        const auto& id = thing.told.id;
        if (folded(id) == folded_) return match::same_letters;
        if (is_whole(thing)) return match::whole;
        if (const auto known = numbered_of(id); !number_.number.empty() && known.number == number_.number &&
                                                (number_.letters.empty() || number_.letters == known.letters))
            return match::same_number;
        if (!phone_.empty() && digits_of(thing.phone).ends_with(phone_)) return match::phone_end;
        if (like_an_id_ || words_.empty()) return match::none;
        if (begins_words(thing.names)) return match::words;
        auto all = thing.names;
        all.insert(all.end(), thing.places.begin(), thing.places.end());
        if (begins_words(all)) return match::places;
        return is_part(thing.names) ? match::part : match::none;
    }

  private:
    /// The digits of a text that is nothing but a telephone number, or its end.
    static std::string phone_of(std::string_view said) {
        const bool other = said.find_first_not_of("0123456789+-()./ ") != std::string_view::npos;
        auto digits = other ? std::string{} : digits_of(said);
        return digits.size() < least_phone_digits ? std::string{} : digits;
    }
    [[nodiscard]] bool is_whole(const named_thing& thing) const {
        if (!phone_.empty() && digits_of(thing.phone) == phone_) return true;
        return !letters_.empty() && std::any_of(thing.names.begin(), thing.names.end(),
                                                [&](const auto& name) { return letters_of(folded(name)) == letters_; });
    }
    /// Every word that was said begins one of theirs.
    [[nodiscard]] bool begins_words(const std::vector<std::string>& names) const {
        std::vector<std::string> theirs;
        for (const auto& name : names)
            for (auto& word : words_of(name))
                theirs.push_back(std::move(word));
        return std::all_of(words_.begin(), words_.end(), [&](const auto& word) {
            return std::any_of(theirs.begin(), theirs.end(),
                               [&](const auto& one) { return is_number(word) ? one == word : one.starts_with(word); });
        });
    }
    static bool is_number(const std::string& word) { return std::all_of(word.begin(), word.end(), is_digit); }
    [[nodiscard]] bool is_part(const std::vector<std::string>& names) const {
        return letters_.size() >= least_part && std::any_of(names.begin(), names.end(), [&](const auto& name) {
                   return letters_of(folded(name)).find(letters_) != std::string::npos;
               });
    }

    std::string said_, folded_, letters_;
    std::vector<std::string> words_;
    numbered number_;
    std::string phone_;
    bool like_an_id_;
};

/// The nearest by letters changed in the id, a whole name, or a word of one.
std::vector<found_thing> nearest(const std::vector<named_thing>& things, std::string_view said) {
    const auto folded_said = folded(said);
    const bool id_alone = looks_like_an_id(said);
    const std::size_t most = id_alone || folded_said.size() < 5 ? 1 : folded_said.size() < 9 ? 2 : 3;
    std::vector<std::pair<std::size_t, const named_thing*>> found;
    for (const auto& thing : things) {
        auto least = letters_changed(folded_said, folded(thing.told.id), most);
        const auto look = [&](const std::string& text) {
            if (text.size() >= least_part) least = std::min(least, letters_changed(folded_said, text, most));
        };
        if (!id_alone)
            for (const auto& name : thing.names) {
                look(folded(name));
                for (const auto& word : words_of(name))
                    look(word);
            }
        if (least <= most) found.emplace_back(least, &thing);
    }
    std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<found_thing> near;
    for (const auto& [changed, thing] : found)
        if (near.size() < 3 && changed == found.front().first) near.push_back(thing->told);
    return near;
}

found among_things(const std::vector<named_thing>& things, std::string_view said) {
    found made;
    if (said.empty()) return made;
    for (const auto& thing : things)
        if (thing.told.id == said) return {{thing.told}, {}, true, true};
    const judge judge{said};
    auto best = match::none;
    for (const auto& thing : things) {
        const auto now = judge.of(thing);
        if (now == match::none || now > best) continue;
        if (now < best) made.matches.clear();
        best = now;
        made.matches.push_back(thing.told);
    }
    made.in_full = best <= match::same_letters;
    if (made.matches.empty()) made.near = nearest(things, said);
    return made;
}

/// "sites": for `tarewell list`.
std::string_view listed_as(kind which) { return info(which).file; }

} // namespace

std::string found_thing::in_words() const { return name.empty() ? id : fmt::format("{} ({})", id, name); }

found find(const season& among, kind which, std::string_view said) {
    const auto things = named_things(among, which);
    if (!things.empty() || !among.defines(which, said)) return among_things(things, said);
    return {{{std::string{said}, {}, {}}}, {}, true, true};
}

found find_processor(const season& among, std::string_view said) { return among_things(named_processors(among), said); }

std::vector<found_thing> things_of(const season& among, kind which) {
    std::vector<found_thing> made;
    for (auto& each : named_things(among, which))
        made.push_back(std::move(each.told));
    return made;
}

std::string_view called(kind which) { return which == kind::cover ? "registration" : info(which).name; }

std::string none_found(kind which, std::string_view said, const std::vector<found_thing>& near) {
    std::string meant;
    for (const auto& each : near)
        meant += (meant.empty() ? "" : " or ") + each.in_words();
    return fmt::format("no {} {} is defined;{} `tarewell list {}` shows all", called(which), quoted(said),
                       meant.empty() ? "" : " did you mean " + meant + "?", listed_as(which));
}

std::string several_found(kind which, std::string_view said, const std::vector<found_thing>& matches) {
    constexpr std::size_t enough = 12;
    const auto one = std::string{called(which)};
    auto text = matches.size() == 1
                    ? fmt::format("{} may be this {}:", quoted(said), one)
                    : fmt::format("{} may be any of {} {}s; say which, by its id:", quoted(said), matches.size(), one);
    table listed{{"id", "", "  "}};
    for (std::size_t i = 0; i < std::min(matches.size(), enough); ++i)
        listed.add({matches[i].id, matches[i].name, matches[i].more});
    const auto lines = listed.text();
    for (auto from = lines.find('\n'); from + 1 < lines.size(); from = lines.find('\n', from + 1))
        text += "\n  " + lines.substr(from + 1, lines.find('\n', from + 1) - from - 1);
    if (matches.size() > enough) text += fmt::format("\n  and {} more", matches.size() - enough);
    return text;
}

} // namespace tarewell::desk
