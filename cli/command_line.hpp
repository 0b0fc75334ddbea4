#pragma once
#include <functional>
#include <iosfwd>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace CLI {
class App;
class Option;
} // namespace CLI

namespace tarewell::cli {

/// What the command line takes, told once: the only file that knows the parser is command_line.cpp, since every file
/// that sees it takes seconds longer to compile.

/// An option, a flag or an argument by place, of a command. A handle: copy it as you like.
class option {
  public:
    explicit option(CLI::Option* of) : of_{of} {}

    option required() const;
    option one_of(const std::vector<std::string>& words) const;
    option between(int lowest, int highest) const;
    option shows_default() const;               ///< in the help
    option many() const;                        ///< may be given many times
    option one_at_a_time() const;               ///< takes one value each time, though it may be given many times
    option words(int fewest, int most) const;   ///< takes so many
    option excludes(const option& other) const; ///< not with the other
    option needs(const option& other) const;    ///< not without the other

  private:
    CLI::Option* of_;
};

/// Thrown by a command where something is missing that only it can know of: usage, exit 2.
struct missing_argument : std::exception {
    explicit missing_argument(std::string what_is_missing) : names{std::move(what_is_missing)} {}
    [[nodiscard]] const char* what() const noexcept override { return names.c_str(); }
    std::string names;
};

/// A command or subcommand. A handle, too.
class command {
  public:
    using kept_things = std::vector<std::shared_ptr<void>>;
    command(CLI::App* of, kept_things* kept) : of_{of}, kept_{kept} {}

    /// A subcommand of this one.
    command add(const std::string& name, const std::string& what) const;
    void wants_subcommand() const;
    /// "--name" takes a value, "NAME" one by its place. `into`: std::string, int, std::uint64_t, an optional int or
    /// entry, or a list of strings.
    template <class T> option value(const std::string& name, T& into, const std::string& what = {}) const;
    /// A value handed on as it comes.
    option handed_on(const std::string& name, const std::function<void(const std::string&)>& to,
                     const std::string& what) const;
    option flag(const std::string& name, bool& into, const std::string& what) const;
    /// What happens when it is called, and no subcommand of it.
    void does(const std::function<void()>& what) const;
    /// Room for what is parsed, that lives as long as the whole command line.
    template <class T> T& keep() const {
        auto made = std::make_shared<T>();
        kept_->push_back(made);
        return *made;
    }

  private:
    CLI::App* of_;
    kept_things* kept_;
};

struct described_option {
    std::string name, what; ///< "--quarter" or "QUARTER"
    std::string takes;      ///< "{lb,kg}", "TEXT ..."; empty for a flag
    std::string usual;      ///< the default, where the help shows it
    bool required = false;
};
struct described_command {
    std::string name, what, example;       ///< the example as typed; empty without one
    std::vector<described_option> options; ///< in the order of the help
    std::vector<described_command> below;
};

/// The whole of it.
class command_line {
  public:
    command_line(const std::string& name, const std::string& about);
    ~command_line();
    command_line(const command_line&) = delete;
    command_line& operator=(const command_line&) = delete;

    [[nodiscard]] command root();
    void footer(const std::string& text);
    void version(const std::string& text); ///< what `--version` prints
    /// Each command's help ends with what this gives for its path, such as "quarter close".
    void examples(const std::function<std::string(const std::string& path)>& of);
    [[nodiscard]] std::vector<described_command> commands() const;
    /// Parses and runs the command named. Help goes to out, what is wrong with the arguments to err; returns an exit
    /// code then, nothing when the command ran. What a command throws goes on to the caller.
    std::optional<int> run(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err);

  private:
    struct inside;
    std::unique_ptr<inside> in_;
};

} // namespace tarewell::cli
