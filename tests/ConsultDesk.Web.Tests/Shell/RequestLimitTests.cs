using System.Net;
using ConsultDesk.Web.Shell;
using Xunit;

namespace ConsultDesk.Web.Tests.Shell;

public sealed class RequestLimitTests
{
    // RFC 6177: an end site is given a /48 to /64, so the host part of an address is its holder's to change at will.
    // Addresses of RFC 3849 (2001:db8::/32) and RFC 5737 (192.0.2.0/24) are kept for examples.
    [Theory]
    [InlineData("2001:db8:1:2::1", "2001:db8:1:2:ffff:abcd:1234:5678", true)]
    [InlineData("2001:db8:1:2::1", "2001:db8:1:3::1", false)]
    [InlineData("2001:db8::1", "2001:db8::2", true)]
    [InlineData("192.0.2.1", "192.0.2.2", false)]
    [InlineData("192.0.2.1", "::ffff:192.0.2.1", true)]
    [InlineData("::ffff:192.0.2.1", "::ffff:192.0.2.2", false)]
    [InlineData("127.0.0.1", "::1", false)]
    public void Addresses_of_one_network_count_as_one_caller(string one, string other, bool same) =>
        Assert.Equal(same, RequestLimits.Caller(IPAddress.Parse(one)) == RequestLimits.Caller(IPAddress.Parse(other)));
}
