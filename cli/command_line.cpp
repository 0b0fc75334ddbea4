#include "command_line.hpp"

#include "context.hpp"
#include "records/nearest_name.hpp"

#include <CLI/CLI.hpp>

namespace tarewell::cli {

option option::required() const {
    of_->required();
    return *this;
}
option option::one_of(const std::vector<std::string>& words) const {
    const CLI::Validator member = CLI::IsMember(words);
    of_->check(CLI::Validator{[member, words](std::string& said) {
                                  auto wrong = member(said);
                                  return wrong.empty() ? wrong : wrong + records::did_you_mean(said, words);
                              },
                              member.get_description()});
    return *this;
}
option option::between(int lowest, int highest) const {
    of_->check(CLI::Range(lowest, highest));
    return *this;
}
option option::shows_default() const {
    of_->capture_default_str();
    return *this;
}
option option::many() const {
    of_->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
    return *this;
}
option option::one_at_a_time() const {
    of_->allow_extra_args(false);
    return *this;
}
option option::words(int fewest, int most) const {
    of_->expected(fewest, most);
    return *this;
}
option option::excludes(const option& other) const {
    of_->excludes(other.of_);
    return *this;
}
option option::needs(const option& other) const {
    of_->needs(other.of_);
    return *this;
}

command command::add(const std::string& name, const std::string& what) const {
    return command{of_->add_subcommand(name, what), kept_};
}
void command::wants_subcommand() const { of_->require_subcommand(1); }

template <class T> option command::value(const std::string& name, T& into, const std::string& what) const {
    return option{of_->add_option(name, into, what)};
}
template option command::value(const std::string&, std::string&, const std::string&) const;
template option command::value(const std::string&, int&, const std::string&) const;
template option command::value(const std::string&, std::uint64_t&, const std::string&) const;
template option command::value(const std::string&, std::optional<int>&, const std::string&) const;
template option command::value(const std::string&, std::optional<records::entry_no>&, const std::string&) const;
template option command::value(const std::string&, std::vector<std::string>&, const std::string&) const;

option command::handed_on(const std::string& name, const std::function<void(const std::string&)>& to,
                          const std::string& what) const {
    return option{of_->add_option_function<std::string>(name, to, what)};
}

option command::flag(const std::string& name, bool& into, const std::string& what) const {
    return option{of_->add_flag(name, into, what)};
}

void command::does(const std::function<void()>& what) const {
    of_->callback([of = of_, what] {
        if (!of->get_subcommands().empty()) return;
        try {
            what();
        } catch (const missing_argument& missing) {
            throw CLI::RequiredError(missing.names);
        }
    });
}

struct command_line::inside {
    inside(const std::string& name, const std::string& about) : program{about, name} {}
    CLI::App program;
    command::kept_things kept;
};

command_line::command_line(const std::string& name, const std::string& about)
    : in_{std::make_unique<inside>(name, about)} {
    auto& program = in_->program;
    program.fallthrough();
    program.require_subcommand(1);
    program.option_defaults()->multi_option_policy(CLI::MultiOptionPolicy::Throw);
    program.set_help_flag("-h,--help", "show help");
}
command_line::~command_line() = default;

command command_line::root() { return command{&in_->program, &in_->kept}; }

void command_line::version(const std::string& text) {
    in_->program.set_version_flag("--version", text, "show the program's version");
}

void command_line::footer(const std::string& text) { in_->program.footer(text); }

namespace {

constexpr std::string_view before_example = "Example:\n  ";

void give_examples(CLI::App& to, const std::string& path, const std::function<std::string(const std::string&)>& of) {
    for (auto* below : to.get_subcommands({})) {
        const auto its = path.empty() ? below->get_name() : path + " " + below->get_name();
        if (const auto example = of(its); !example.empty()) below->footer(std::string{before_example} + example);
        give_examples(*below, its, of);
    }
}

/// "tarewell quarter show"
std::string path_of(const CLI::App& of) {
    return of.get_parent() == nullptr ? of.get_name() : path_of(*of.get_parent()) + " " + of.get_name();
}

const CLI::Option* option_of(const CLI::App& of, const std::string& name) {
    const auto* found = of.get_option_no_throw(name);
    return found != nullptr || of.get_parent() == nullptr ? found : option_of(*of.get_parent(), name);
}

std::vector<std::string> options_of(const CLI::App& of) {
    std::vector<std::string> names;
    for (const auto* at = &of; at != nullptr; at = at->get_parent())
        for (const auto* each : at->get_options({}))
            for (const auto& name : each->get_lnames())
                names.push_back("--" + name);
    return names;
}

std::string no_command(const CLI::App& of, const std::string& said) {
    std::vector<std::string> names;
    for (const auto* each : of.get_subcommands({}))
        names.push_back(each->get_name());
    const auto of_what = of.get_parent() == nullptr ? "" : fmt::format(" of `{}`", path_of(of));
    return fmt::format("'{}' is no command{}{} `{} --help` lists them", said, of_what,
                       records::near_names(said, names).empty() ? ";" : records::did_you_mean(said, names),
                       path_of(of));
}

/// The first argument that is no command or option where it stands, and what was meant; empty where it is none of that.
std::string slip_among(const std::vector<std::string>& arguments, const CLI::App& program) {
    const auto* at = &program;
    for (std::size_t i = 0; i < arguments.size() && arguments[i] != "--"; ++i) {
        const auto& said = arguments[i];
        if (said.starts_with("--")) {
            const auto name = said.substr(0, said.find('='));
            const auto* known = option_of(*at, name);
            const auto names = options_of(*at);
            if (known == nullptr)
                return fmt::format("'{}' is no option of `{}`{} `{} --help` lists them", name, path_of(*at),
                                   records::near_names(name, names).empty() ? ";" : records::did_you_mean(name, names),
                                   path_of(*at));
            if (known->get_items_expected_max() > 0 && name == said) ++i;
            continue;
        }
        const auto below = at->get_subcommands({});
        if (below.empty() || said.starts_with('-')) continue;
        const auto places = at->get_options([](const CLI::Option* each) { return each->get_positional(); });
        const auto found =
            std::find_if(below.begin(), below.end(), [&](const auto* each) { return each->get_name() == said; });
        if (found != below.end())
            at = *found;
        else if (places.empty())
            return no_command(*at, said);
        else
            return {};
    }
    return {};
}

} // namespace

void command_line::examples(const std::function<std::string(const std::string& path)>& of) {
    give_examples(in_->program, {}, of);
}

std::optional<int> command_line::run(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err) {
    try {
        in_->program.parse(std::vector<std::string>{arguments.rbegin(), arguments.rend()});
        return std::nullopt;
    } catch (const CLI::Success& asked) {
        in_->program.exit(asked, out, err);
        return done;
    } catch (const CLI::ParseError& wrong) {
        const auto slip = slip_among(arguments, in_->program);
        if (slip.empty())
            in_->program.exit(wrong, out, err);
        else
            err << slip << '\n';
        return usage;
    }
}

namespace {

described_option described(const CLI::Option& of) {
    described_option made{
        of.get_name(of.get_positional()), of.get_description(), {}, of.get_default_str(), of.get_required()};
    if (of.get_type_size() != 0) made.takes = of.get_type_name();
    return made;
}

described_command described(const CLI::App& of) {
    described_command made{of.get_name(), of.get_description(), {}, {}, {}};
    if (const auto footer = of.get_footer(); footer.starts_with(before_example))
        made.example = footer.substr(before_example.size());
    for (const auto* each : of.get_options([&](const CLI::Option* one) { return one != of.get_help_ptr(); }))
        made.options.push_back(described(*each));
    for (const auto* below : of.get_subcommands({}))
        made.below.push_back(described(*below));
    return made;
}

} // namespace

std::vector<described_command> command_line::commands() const { return described(in_->program).below; }

} // namespace tarewell::cli
