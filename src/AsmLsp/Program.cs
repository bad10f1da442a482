Console.Error.WriteLine("relist: nothing is built in yet");
return 2;
