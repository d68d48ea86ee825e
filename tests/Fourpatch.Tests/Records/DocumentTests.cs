using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Records;

namespace Fourpatch.Tests.Records;

/// <summary>Documents beside weighings and calibrations, and work that is not finished: kept, found, carried, forgotten.</summary>
public class DocumentTests
{
    [Fact]
    public void The_latest_of_a_kind_and_a_name_is_found_whatever_its_capitals()
    {
        using var folder = new RecordFolder();
        using RecordStore store = folder.Open();
        store.Save(Samples.Document(DocumentKind.Floor, "Garage, door end", 2, minutes: 30)).OrFail();
        string latest = store.Save(Samples.Document(DocumentKind.Floor, "garage, door end", 3, minutes: 60)).OrFail().Id;
        store.Save(Samples.Document(DocumentKind.Floor, "garage, door end", 1)).OrFail();
        store.Save(Samples.Document(DocumentKind.Plan, "garage, door end", 1, minutes: 90)).OrFail();
        store.Save(Samples.Document(DocumentKind.Floor, "garage", 1, minutes: 90)).OrFail();
        DocumentRecord found = store.LatestDocument(DocumentKind.Floor, " GARAGE, door end ").OrFail();
        Assert.Equal((latest, 3.0), (found.Id, (double)found.Inputs["figure"]!));
        InputError error = store.LatestDocument(DocumentKind.CgHeight, "garage").Error!;
        Assert.Equal(ErrorCode.UnknownName, error.Code);
        Assert.Contains("records list --kind cg-height", error.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public void A_list_has_them_by_kind_and_by_what_they_are_about()
    {
        using var folder = new RecordFolder();
        using RecordStore store = folder.Open();
        store.Save(Samples.Typed("weighing", [1, 2, 3, 4], new())).OrFail();
        foreach (DocumentKind kind in Enum.GetValues<DocumentKind>())
        {
            store.Save(Samples.Document(kind, "one", 1) with { Subject = kind == DocumentKind.Plan ? "Plain" : "bay" }).OrFail();
        }

        RecordLine plan = Assert.Single(store.List(new(Kind: "plan")).OrFail());
        Assert.Equal(("plan", "one", "Plain", null, true, null), (plan.Kind, plan.Name, plan.Subject, plan.Method, plan.IsAcceptable, plan.TotalKg));
        Assert.False(Assert.Single(store.List(new(Kind: "cg-height")).OrFail()).IsAcceptable);
        Assert.Equal(["weighing", "plan"], store.List(new(Car: "plain")).OrFail().Select(line => line.Kind));
        Assert.Equal(DocumentRecord.AllKinds.Count - 1, store.List(new()).OrFail().Count);
        Assert.Contains("of the kind plan", store.FindWeighing(plan.Id).Error!.OneLine, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("""{"a":1}""", true)]
    [InlineData("""{"a":1.0,"new":7}""", true)]
    [InlineData("""{"a":1.0000000000001}""", true)]
    [InlineData("""{"a":1.00000000001}""", false)]
    [InlineData("""{"a":null}""", false)]
    [InlineData("""{}""", false)]
    [InlineData("""{"a":{"b":1}}""", false)]
    [InlineData("""{"a":[1]}""", false)]
    public void Every_figure_told_then_must_come_out_again(string now, bool agrees)
    {
        DocumentRecord record = Samples.Document(DocumentKind.Plan, "x", 1) with { Answer = new JsonObject { ["a"] = 1.0 } };
        Assert.Equal(agrees, Recomputation.Of(record, JsonNode.Parse(now)!.AsObject()).Agrees);
    }

    [Theory]
    [InlineData("""{"list":[1,2],"good":true,"text":"other words"}""", true)]
    [InlineData("""{"list":[1,2,3],"good":true,"text":"x"}""", false)]
    [InlineData("""{"list":[1],"good":true,"text":"x"}""", false)]
    [InlineData("""{"list":[1,2],"good":false,"text":"x"}""", false)]
    [InlineData("""{"list":[1,2],"good":true,"text":null}""", false)]
    public void Lists_and_verdicts_count_and_words_do_not(string now, bool agrees)
    {
        DocumentRecord record = Samples.Document(DocumentKind.Plan, "x", 1) with { Answer = JsonNode.Parse("""{"list":[1,2],"good":true,"text":"x"}""")!.AsObject() };
        Assert.Equal(agrees, Recomputation.Of(record, JsonNode.Parse(now)!.AsObject()).Agrees);
    }

    [Fact]
    public void Unfinished_work_is_kept_step_by_step_and_forgotten_when_it_is_done()
    {
        using var folder = new RecordFolder();
        using (RecordStore store = folder.Open())
        {
            Assert.Empty(store.Unfinished().OrFail());
            store.SaveUnfinished("weigh Wren", new JsonObject { ["step"] = 1 }, Samples.Evening).OrFail();
            store.SaveUnfinished("floor garage", new JsonObject(), Samples.Evening.AddMinutes(1)).OrFail();
            UnfinishedWork saved = store.SaveUnfinished("weigh Wren", new JsonObject { ["step"] = 2, ["text"] = "\u00e9<" }, Samples.Evening.AddMinutes(2)).OrFail();
            Assert.Equal((Samples.Evening, Samples.Evening.AddMinutes(2)), (saved.Started, saved.Updated));
        }

        using RecordStore again = folder.Open();
        Assert.Equal(["floor garage", "weigh Wren"], again.Unfinished().OrFail().Select(work => work.Key));
        Assert.Equal("{\"step\":2,\"text\":\"\u00e9<\"}", RecordJson.LineOf(again.Unfinished().Value[1].State));
        Assert.True(again.DropUnfinished("floor garage").OrFail());
        Assert.False(again.DropUnfinished("floor garage").OrFail());

        // What ends with a record is forgotten with it, also when the record was there already.
        for (int time = 0; time < 2; time++)
        {
            again.SaveUnfinished("weigh Wren", [], Samples.Evening).OrFail();
            again.Save(Samples.Typed("done", [1, 2, 3, 4], new()), finishes: "weigh Wren").OrFail();
            Assert.Empty(again.Unfinished().OrFail());
        }
    }

    [Fact]
    public void What_cannot_be_kept_leaves_the_unfinished_work_where_it_was()
    {
        using var folder = new RecordFolder();
        using RecordStore store = folder.Open();
        store.SaveUnfinished("weigh Wren", new JsonObject { ["step"] = 1 }, Samples.Evening).OrFail();
        Sql.Run(folder.File, "CREATE TRIGGER full BEFORE INSERT ON weighing BEGIN SELECT RAISE(ABORT, 'no room'); END");
        Assert.False(store.Save(Samples.Typed("lost", [1, 2, 3, 4], new()), finishes: "weigh Wren").IsOk);
        Assert.Single(store.Unfinished().OrFail());
    }
}
