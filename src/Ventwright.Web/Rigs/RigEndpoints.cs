using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Ventwright.Rig.Channels;
using Ventwright.Rig.Running;
using Ventwright.Workshop.Rigs;

namespace Ventwright.Web.Rigs;

/// <summary>What goes by a plain request: STOP, so that it works when a page has lost its connection, and the logs of runs.</summary>
internal static class RigEndpoints
{
    /// <summary>Address of a run's log.</summary>
    public static string Log(long run) => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"/rig/runs/{run}.csv");

    /// <summary>Serves them.</summary>
    public static void Map(WebApplication app)
    {
        app.MapPost("/rig/stop", async (BenchRig rig) =>
        {
            SafeReport? report = await rig.StopAsync("STOP was pressed");
            return Results.Text(report?.ToString() ?? "No rig is connected.");
        });
        app.MapGet("/rig/runs/{run:long}.csv", (long run, IRunStore store) => store.FindRun(run) is { } record
            ? Results.File(Csv(record, store.Samples(run)), "text/csv; charset=utf-8", $"rig-{record.Start.Session}-{run}.csv")
            : Results.NotFound());
    }

    private static byte[] Csv(RigRunRecord run, IReadOnlyList<IReadOnlyList<string>> rows)
    {
        var text = new StringBuilder(RunTable.Line(run.Start.Heads)).Append('\n');
        foreach (IReadOnlyList<string> row in rows) text.Append(RunTable.Line(row)).Append('\n');
        return new UTF8Encoding(false).GetBytes(text.ToString());
    }
}
