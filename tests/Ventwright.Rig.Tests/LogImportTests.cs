using System.Globalization;
using Ventwright.Bench;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Rig.Logs;

namespace Ventwright.Rig.Tests;

/// <summary>Logs of other loggers, made here with known steady stretches in them.</summary>
public class LogImportTests
{
    [Fact]
    public void SteadyMomentsOfAForeignLogBecomeReadings()
    {
        string log = Write("log.csv", ForeignLog()), map = Write("map.yaml", """
            log: 1
            delimiter: semicolon
            decimal: comma
            skip-lines: 2
            time: { column: Zeit, format: "dd.MM.yyyy HH:mm:ss" }
            columns:
              Kanal 1: { at: volts(load), unit: mV, accuracy: 0.5 % }
              Kanal 2: { at: vacuum(vac.end), unit: kPa, within: 1 kPa }
              Knopf: { set: mode, words: { "0": off, "1": on } }
            set: { cabin: 20 degC }
            steady: { for: 10 s }
            """);
        var problems = new ProblemList();
        IReadOnlyList<LoggedReading> readings = LogImport.Read(log, map, Rigs.Model, problems)!;
        Assert.Empty(problems.Sorted);
        // 0..29 s at 0 V with the knob at 0, then a rise until 60 s, then 12 V with the knob at 1 until 100 s.
        Assert.Equal(4, readings.Count);
        Assert.Equal([("cabin", "20 degC"), ("mode", "off")], readings[0].Set);
        Assert.InRange(readings[0].ToS, 27, 31);
        Assert.Equal(0, readings[0].Si, 2);
        Assert.Equal([("cabin", "20 degC"), ("mode", "on")], readings[2].Set);
        Assert.InRange(readings[2].FromS, 58, 63);
        Assert.Equal(12.0, readings[2].Si, 2);
        Assert.Equal(new Observable(ObservableKind.Vacuum, "vac.end"), readings[3].At);
        Assert.InRange(readings[3].Si, 60.2e3, 60.4e3);

        string yaml = Write("readings.yaml", LogImport.ToYaml(readings));
        IReadOnlyList<WrittenReading> written = ReadingsFile.Load(yaml, problems);
        Assert.Empty(problems.Sorted);
        Assert.Equal(4, written.Count);
        Assert.Equal(("volts(load)", "0.5 %"), (written[2].At, written[2].Accuracy));
        Assert.StartsWith("12", written[2].Got, StringComparison.Ordinal);
    }

    [Fact]
    public void WhatIsWrongWithAMapOrALogIsTold()
    {
        string log = Write("log.csv", ForeignLog());
        var problems = new ProblemList();
        Assert.Null(LogImport.Read(log, Write("map.yaml", "log: 1\ntime: { column: Zeit, format: iso }\ncolumns:\n  A: { at: volts(laod), unit: V }\n  B: { at: volts(load), unit: kPa }\n  C: { set: mod }\n"), Rigs.Model, problems));
        Assert.Equal([(4, true), (5, true), (6, true)], problems.Sorted.Select(p => (p.At.Line, p.At.Column > 1)));

        RigException head = Assert.Throws<RigException>(() => LogImport.Read(log, Map("Kanal 3", "dd.MM.yyyy HH:mm:ss", "comma"), Rigs.Model, new()));
        Assert.Contains("no column 'Kanal 3'; did you mean 'Kanal 1'?", head.Message, StringComparison.Ordinal);
        RigException time = Assert.Throws<RigException>(() => LogImport.Read(log, Map("Kanal 1", "yyyy-MM-dd", "comma"), Rigs.Model, new()));
        Assert.Contains("row 4, column 'Zeit'", time.Message, StringComparison.Ordinal);
        RigException point = Assert.Throws<RigException>(() => LogImport.Read(log, Map("Kanal 1", "dd.MM.yyyy HH:mm:ss", "point"), Rigs.Model, new()));
        Assert.Contains("decimal comma", point.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("seconds", "0.5", "1.0")]
    [InlineData("milliseconds", "500", "1000")]
    [InlineData("minutes", "0.5", "0.508333333333333")]
    [InlineData("hours", "1", "1.0001388888888889")]
    [InlineData("clock", "23:00:00.5", "23:00:01.0")]
    [InlineData("iso", "2026-03-01T12:00:00.500Z", "2026-03-01T13:00:01+01:00")]
    [InlineData("dd.MM.yyyy HH:mm:ss.fff", "28.02.2026 23:59:59.750", "01.03.2026 00:00:00.250")]
    public void TimesAreReadAsTheMapSays(string format, string first, string second)
    {
        CsvTable table = CsvTable.Read(Write("times.csv", $"when\tvolts\n{first}\t1\n{second}\t2\n"), null, 0);
        Assert.Equal('\t', table.Delimiter);
        var map = new LogMap { TimeColumn = "when", TimeFormat = format };
        Assert.Equal(0.5, LogSeries.Read(table, map).Seconds[1], 5);
    }

    [Fact]
    public void NoiseWithinTheLimitIsSteadyAndASlowRiseIsNot()
    {
        Assert.Single(Moments(t => 5 + (0.01 * Math.Sin(37 * t))));
        Assert.Empty(Moments(t => 5 + (0.05 * t))); // 0.25 V in a window of 5 s, 0.05 V allowed
        Assert.Empty(Moments(t => 5 + (0.5 * Math.Sin(3 * t))));
        Assert.Equal(2, Moments(t => t < 20 ? 5 : 7).Count);
    }

    private static List<SteadyMoment> Moments(Func<double, double> volts)
    {
        string rows = string.Join('\n', Enumerable.Range(0, 200).Select(i => string.Create(CultureInfo.InvariantCulture, $"{0.2 * i:0.0},{volts(0.2 * i):0.0000}")));
        CsvTable table = CsvTable.Read(Write("own.csv", "seconds,volts(load) [V]\n" + rows), null, 0);
        LogMap map = LogMap.FromHeads(table, Rigs.Model);
        return SteadyMoments.Find(LogSeries.Read(table, map), map);
    }

    private static string ForeignLog()
    {
        var start = new DateTime(2026, 3, 1, 23, 59, 30);
        var comma = new NumberFormatInfo { NumberDecimalSeparator = "," };
        IEnumerable<string> rows = Enumerable.Range(0, 101).Select(t =>
        {
            double millivolts = t < 30 ? 1 : t < 60 ? 400.0 * (t - 30) : 12000 + ((t % 2) * 4);
            return $"{start.AddSeconds(t):dd.MM.yyyy HH:mm:ss};{millivolts.ToString("0.0", comma)};{(t < 30 ? 0 : 60 + (0.3 * (t % 3))).ToString("0.00", comma)};{(t < 45 ? 0 : 1)}";
        });
        return "Logger 12\nSerie 4\nZeit;Kanal 1;Kanal 2;Knopf\n" + string.Join('\n', rows);
    }

    private static string Map(string column, string time, string decimals) =>
        Write("map.yaml", $"log: 1\nskip-lines: 2\ndecimal: {decimals}\ntime: {{ column: Zeit, format: \"{time}\" }}\ncolumns:\n  {column}: {{ at: volts(load), unit: mV }}\n");

    private static string Write(string name, string text)
    {
        string path = Peer.TemporaryPath(name);
        File.WriteAllText(path, text);
        return path;
    }
}
