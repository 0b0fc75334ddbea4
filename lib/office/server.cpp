#include "office/server.hpp"

#include "records/errors.hpp"

// The one source that knows Boost: Beast takes seconds to compile.
#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/ip/v6_only.hpp>
#include <boost/asio/signal_set.hpp>
#include <boost/beast/core.hpp>
#include <boost/beast/http.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <list>

namespace tarewell::office {
namespace {

namespace asio = boost::asio;
namespace beast = boost::beast;
namespace http = beast::http;
using tcp = asio::ip::tcp;
using boost::system::error_code;

std::string small_letters(boost::string_view text) {
    std::string made{text.data(), text.size()};
    std::transform(made.begin(), made.end(), made.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    return made;
}

/// What came over the wire as the office reads it.
template <class Message> request read_of(const Message& from) {
    request made{std::string{from.method_string()}, std::string{from.target()}, {}};
    for (const auto& field : from)
        made.headers.emplace_back(small_letters(field.name_string()),
                                  std::string{field.value().data(), field.value().size()});
    return made;
}

/// One connection: a head is read, then the body that it may have, then it is answered, and again.
class connection : public std::enable_shared_from_this<connection> {
  public:
    connection(tcp::socket socket, state& of, const server_limits& within, std::size_t& open)
        : stream_{std::move(socket)}, of_{of}, within_{within}, open_{open} {
        ++open_;
    }
    ~connection() { --open_; }
    connection(const connection&) = delete;
    connection& operator=(const connection&) = delete;

    void read_head() {
        parser_.emplace();
        parser_->header_limit(static_cast<std::uint32_t>(within_.header));
        parser_->body_limit(std::numeric_limits<std::uint64_t>::max()); // told by the head, below
        stream_.expires_after(first_ ? within_.head_time : within_.idle_time);
        first_ = false;
        http::async_read_header(stream_, buffer_, *parser_,
                                [self = shared_from_this()](error_code wrong, std::size_t) { self->take_head(wrong); });
    }
    /// When there are too many already.
    void turn_away() { say(503, "The office page has too many connections; close some tabs.\n"); }

  private:
    void take_head(error_code wrong) {
        if (wrong == http::error::end_of_stream) return close();
        if (wrong == http::error::header_limit) return say(431, "The request's head is too long.\n");
        if (wrong.category() == http::make_error_code(http::error::bad_method).category())
            return say(400, "That is no request that can be read.\n");
        if (wrong) return;
        const auto head = read_of(parser_->get());
        const auto most = longest_body(of_, head);
        const auto length = parser_->content_length();
        const bool brings = length ? *length > 0 : parser_->chunked();
        if (brings && (most == 0 || (length && *length > most))) return refuse_body(head, most);
        parser_->body_limit(most);
        if (beast::iequals(parser_->get()[http::field::expect], "100-continue"))
            return say(417, "Send the form at once.\n");
        stream_.expires_after(within_.body_time);
        http::async_read(stream_, buffer_, *parser_,
                         [self = shared_from_this()](error_code bad, std::size_t) { self->take_body(bad); });
    }

    /// Nothing of it is read: a stranger is told that, and others that it is too large.
    void refuse_body(const request& head, std::size_t most) {
        if (most > 0) return say(413, "That is too large for the office page.\n");
        auto without = head;
        without.body.clear();
        send(answer(of_, without), false);
    }

    void take_body(error_code wrong) {
        if (wrong == http::error::body_limit) return say(413, "That is too large for the office page.\n");
        if (wrong) return close();
        auto asked = read_of(parser_->get());
        asked.body = std::move(parser_->get().body());
        const bool keep = parser_->keep_alive();
        response made;
        try {
            made = answer(of_, asked);
        } catch (const std::exception& unforeseen) {
            made = {500, "text/plain; charset=utf-8", fmt::format("Nothing was changed: {}\n", unforeseen.what())};
            put_guards(made);
        }
        send(std::move(made), keep);
    }

    void say(int status, std::string text) {
        response made{status, "text/plain; charset=utf-8", std::move(text)};
        put_guards(made);
        send(std::move(made), false);
    }

    void send(response made, bool keep) {
        const bool head_only = parser_ && parser_->is_header_done() && parser_->get().method() == http::verb::head;
        answer_ = std::make_unique<http::response<http::string_body>>();
        answer_->version(11);
        answer_->result(static_cast<unsigned>(made.status));
        answer_->set(http::field::content_type, made.type);
        for (const auto& [name, value] : made.headers)
            answer_->insert(name, value);
        answer_->keep_alive(keep);
        answer_->content_length(made.body.size());
        if (!head_only) answer_->body() = std::move(made.body);
        stream_.expires_after(within_.body_time);
        http::async_write(stream_, *answer_, [self = shared_from_this(), keep](error_code wrong, std::size_t) {
            if (wrong || !keep) return self->close();
            self->read_head();
        });
    }

    void close() {
        error_code ignored;
        stream_.socket().shutdown(tcp::socket::shutdown_send, ignored); // NOLINT: what fails here is closed already
    }

    beast::tcp_stream stream_;
    beast::flat_buffer buffer_;
    std::optional<http::request_parser<http::string_body>> parser_;
    std::unique_ptr<http::response<http::string_body>> answer_;
    state& of_;
    const server_limits& within_;
    std::size_t& open_;
    bool first_ = true;
};

} // namespace

struct server::inside {
    explicit inside(server_limits limits) : within{limits} {}

    void listen(const tcp::endpoint& at) {
        tcp::acceptor made{around};
        made.open(at.protocol());
        if (at.protocol() == tcp::v6()) made.set_option(asio::ip::v6_only{true});
        made.set_option(tcp::acceptor::reuse_address{true});
        made.bind(at);
        made.listen();
        acceptors.push_back(std::move(made));
    }
    void accept(tcp::acceptor& by, state& of) {
        by.async_accept([this, &by, &of](error_code wrong, tcp::socket socket) {
            if (!by.is_open()) return;
            if (!wrong) {
                const bool full = open >= within.connections;
                const auto made = std::make_shared<connection>(std::move(socket), of, within, open);
                if (full)
                    made->turn_away();
                else
                    made->read_head();
            }
            accept(by, of);
        });
    }

    server_limits within;
    std::size_t open = 0; ///< connections; before the context, whose handlers keep them
    asio::io_context around{1};
    std::list<tcp::acceptor> acceptors;
};

server::server(unsigned port, server_limits within) : in_{std::make_unique<inside>(within)} {
    try {
        in_->listen({asio::ip::address_v4::loopback(), static_cast<unsigned short>(port)});
    } catch (const boost::system::system_error& wrong) {
        throw records::io_error(fmt::format("port {} can't be used: {}; choose another with --port, or leave it out",
                                            port, wrong.code().message()));
    }
    try {
        in_->listen({asio::ip::address_v6::loopback(), static_cast<unsigned short>(this->port())});
    } catch (const boost::system::system_error&) { // NOLINT(bugprone-empty-catch)
        // A computer without IPv6, or the port is another's there: 127.0.0.1 is enough.
    }
}

server::~server() = default;

unsigned server::port() const { return in_->acceptors.front().local_endpoint().port(); }

void server::run(state& with) {
    asio::signal_set stop{in_->around, SIGINT, SIGTERM};
    stop.async_wait([this](error_code, int) { in_->around.stop(); });
    for (auto& each : in_->acceptors)
        in_->accept(each, with);
    in_->around.run();
}

} // namespace tarewell::office
