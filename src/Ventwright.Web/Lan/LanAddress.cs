using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;
using QRCoder;

namespace Ventwright.Web.Lan;

/// <summary>How this computer is reached from the workshop's network.</summary>
/// <param name="Port">Port that the app listens on.</param>
internal sealed record LanAddress(int Port)
{
    /// <summary>Addresses of this computer in its networks, such as <c>http://192.168.1.20:5240</c>.</summary>
    public IReadOnlyList<string> All =>
    [
        .. NetworkInterface.GetAllNetworkInterfaces().Where(n => n.OperationalStatus == OperationalStatus.Up && n.NetworkInterfaceType != NetworkInterfaceType.Loopback)
            .SelectMany(n => n.GetIPProperties().UnicastAddresses).Select(a => a.Address)
            .Where(a => a.AddressFamily == AddressFamily.InterNetwork && !IPAddress.IsLoopback(a)).Select(a => $"http://{a}:{Port}"),
    ];

    /// <summary>A code to scan, as SVG.</summary>
    public static string Code(string text)
    {
        using QRCodeData data = QRCodeGenerator.GenerateQrCode(text, QRCodeGenerator.ECCLevel.M);
        using var code = new SvgQRCode(data);
        return code.GetGraphic(8, "#000000", "#ffffff", drawQuietZones: true, SvgQRCode.SizingMode.ViewBoxAttribute);
    }
}
