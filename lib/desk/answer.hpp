#pragma once
#include "desk/value.hpp"

#include <fmt/format.h>

#include <string>
#include <vector>

namespace tarewell::desk {

/// A cell as people read it and as machines do.
struct cell {
    std::string text;
    value of;
    bool left_out = false; ///< to machines: the field is not there in this row

    /// Both alike: a text, a count, a weight, an amount, a day.
    template <class T>
    requires std::constructible_from<value, T> cell(const T& both) : of{both} {
        if (of.text() != nullptr)
            text = *of.text();
        else if (!of.is_null())
            text = of.json(false);
    }
    cell(std::string for_people, value for_machines) : text{std::move(for_people)}, of{std::move(for_machines)} {}
    /// Without its field, where there is nothing to say.
    static cell only_if(bool any, value of) {
        cell made{{}, std::move(of)};
        made.left_out = !any;
        return made;
    }
};

class table {
  public:
    /// Columns, each as "heading for people=name_for_machines"; one word alone is both, "heading=" is for people and
    /// "=name" for machines alone.
    explicit table(const std::vector<std::string>& columns);
    /// A cell a column.
    void add(std::vector<cell> cells);
    [[nodiscard]] bool empty() const { return rows_.empty(); }

    /// Columns set apart by two spaces; numbers to the right, words to the left. Width by characters.
    [[nodiscard]] std::string text() const;
    /// A list of rows as fields by name.
    [[nodiscard]] value rows() const;

  private:
    struct column {
        std::string heading, name;
        bool for_people = true;
    };
    std::vector<column> columns_;
    std::vector<std::vector<cell>> rows_;
};

/// What was asked for, told once: to people in lines and tables, to machines as fields or a list.
class answer {
  public:
    value data;         ///< for machines
    bool found = false; ///< a check found something: exit 1

    template <class... Args> void say(fmt::format_string<Args...> text, Args&&... args) {
        text_ += fmt::format(text, std::forward<Args>(args)...);
    }
    /// To people alone.
    void show(const table& of) { text_ += of.text(); }
    /// To both: to machines as a list under the name, or as the whole answer without one.
    void tell(const std::string& name, const table& of) {
        show(of);
        data[name] = of.rows();
    }
    void tell(const table& of) {
        show(of);
        data = of.rows();
    }

    [[nodiscard]] const std::string& text() const { return text_; }
    [[nodiscard]] std::string json() const { return data.json() + "\n"; }

  private:
    std::string text_;
};

/// "1 bale", "3 bales"
std::string counted(std::size_t count, const char* one, const char* many);

} // namespace tarewell::desk
